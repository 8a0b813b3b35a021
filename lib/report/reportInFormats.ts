import { makeRefusal } from '../words/makeRefusal';
import { composeReport } from './composeReport';
import { settleChart } from './picture/chartOptions';
import { pictureSvg } from './picture/pictureSvg';
import { svgToPng } from './picture/svgToPng';
import { markdownOf } from './plain/markdown';
import { plainTextOf } from './plain/plainText';
import { summaryOf } from './plain/summary';
import type { Report, ReportInput } from './reportInput';
import { plainName } from './text';

const FORMATS = ['png', 'markdown', 'text'] as const;
/** Forms of a report beside its page. */
export type ReportFormat = (typeof FORMATS)[number];

export interface FormatOptions {
  formats?: readonly ReportFormat[];
  /** Who measured, or under which licence: below pictures and summaries. */
  credit?: string;
}

export interface FormattedReport extends Report {
  /** Every figure at each size, with title, what was measured and credit. */
  pictures?: { name: string; figure: string; widthPx: number; heightPx: number; png: Uint8Array }[];
  /** CommonMark with a table. */
  markdown?: string;
  text?: string;
}

/** For an article on a desk, and for a phone or a forum. */
const SIZES = [
  { widthPx: 1800, heightPx: 1040 },
  { widthPx: 720, heightPx: 560 },
];

/**
 * Write a report, and its figures and its summary in other forms.
 *
 * @throws BassloomError `bad-option` where a format is not known.
 *
 * @example
 * const { markdown } = await reportInFormats({ topic: 'Unit A', measurements: [curve], findings: {} }, { formats: ['markdown'] });
 */
export async function reportInFormats(
  input: ReportInput,
  { formats = [], credit = '' }: FormatOptions = {},
): Promise<FormattedReport> {
  for (const value of formats) {
    if (!FORMATS.includes(value))
      throw makeRefusal('bad-option', { wanted: 'report-format', value }, { field: 'formats' });
  }
  const { report, session, title, figures } = composeReport(input);
  const { words } = session;
  const { generatedAt } = input;
  const notes = { procedure: input.procedure, room: input.room };
  const summary = summaryOf({ session, title, generatedAt, notes, credit });
  const below = [plainName(title), ...summary.lines, summary.credit].filter(Boolean).join(' \u00b7 ');
  const pictures: FormattedReport['pictures'] = [];
  if (formats.includes('png')) {
    for (const figure of figures) {
      for (const size of SIZES) {
        const options = settleChart({ ...size, format: 'png', credit: below });
        const { svg } = pictureSvg(figure, options, words);
        const name = `${figure.id}-${size.widthPx}.png`;
        pictures.push({ name, figure: figure.id, ...size, png: await svgToPng(svg) });
      }
    }
  }
  return {
    ...report,
    ...(formats.includes('png') && { pictures }),
    ...(formats.includes('markdown') && { markdown: markdownOf(summary, words) }),
    ...(formats.includes('text') && { text: plainTextOf(summary, words) }),
  };
}
