import { makeRefusal } from '../../words/makeRefusal';
import { plainName } from '../text';

export interface ChartOptions {
  /** Default svg. */
  format?: 'svg' | 'png';
  /** Size, px; default 900 x 520. A PNG has exactly so many; an SVG is laid out for them and can be scaled. */
  widthPx?: number;
  heightPx?: number;
  /** 'paper' is black on white, for print; default light. */
  theme?: 'light' | 'dark' | 'paper';
  /** Above the chart; where left out, what the chart shows. '' leaves it away. */
  title?: string;
  /** A line below the chart: who measured, when, under which licence. */
  credit?: string;
  /** Language, such as 'en-GB'; English where it is not known. */
  locale?: string;
}

/** The same, settled and checked. */
export type SettledChart = Required<Omit<ChartOptions, 'title' | 'locale'>> & Pick<ChartOptions, 'title' | 'locale'>;

/** Smaller pictures cannot be read, larger ones take memory by the hundred megabytes. */
const SIDES_PX = { widthPx: [240, 4096], heightPx: [200, 4096] } as const;

/** @throws BassloomError `bad-option`. */
export function settleChart(options: ChartOptions): SettledChart {
  const { format = 'svg', theme = 'light', widthPx = 900, heightPx = 520, title, credit = '', locale } = options;
  if (!['svg', 'png'].includes(format))
    throw makeRefusal('bad-option', { wanted: 'picture-format', value: format }, { field: 'format' });
  if (!['light', 'dark', 'paper'].includes(theme))
    throw makeRefusal('bad-option', { wanted: 'theme', value: theme }, { field: 'theme' });
  for (const [field, value] of Object.entries({ widthPx, heightPx })) {
    const [least, most] = SIDES_PX[field as keyof typeof SIDES_PX];
    if (!Number.isInteger(value) || value < least || value > most) {
      throw makeRefusal(
        'bad-option',
        { wanted: field === 'widthPx' ? 'picture-width' : 'picture-height', value },
        { field },
      );
    }
  }
  for (const [field, value] of Object.entries({ title, credit, locale })) {
    if (value !== undefined && typeof value !== 'string')
      throw makeRefusal('bad-option', { wanted: 'text', value }, { field });
  }
  return {
    format,
    theme,
    widthPx,
    heightPx,
    title: title === undefined ? undefined : plainName(title),
    credit: plainName(credit),
    locale,
  };
}
