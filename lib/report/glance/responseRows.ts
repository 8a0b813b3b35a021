import type { ReportWords } from '../../words/reportWords';
import type { SettingView } from '../session';
import { plainName } from '../text';
import { distinct, flagged, type GlanceRow } from './glanceRow';

/** How wide and how deep. */
export function responseRows(views: SettingView[], words: ReportWords): GlanceRow[] {
  const { say, page } = words;
  const { glanceTable: told } = page;
  const heights = say.list(distinct(views.flatMap(({ fit }) => (fit ? [say.short(fit.heightDb)] : []))));
  const downs = distinct(views.flatMap(({ fit }) => fit?.points.map(({ downDb }) => downDb) ?? []));
  const range = ({ lowHz, highHz }: { lowHz: number; highHz: number }): string => say.hzRange(lowHz, highHz);
  return [
    [told.windowMasked(heights), ({ fit }) => (fit && fit.masksHz.length > 0 ? flagged(range(fit), fit, words) : null)],
    [told.window(heights), ({ fit }) => (fit ? flagged(range(fit.withoutMasks), fit, words) : null)],
    ...downs.sort((a, b) => a - b).map((down): GlanceRow => [told.down(down), (view) => downAt(view, down, words)]),
    [
      told.rollOff,
      ({ rollOff: one }) =>
        one
          ? flagged(
              told.fall(told.slope(one.slopeDbPerOctave), one.f0Hz, one.q, plainName(one.alignment ?? '')),
              one,
              words,
            )
          : null,
    ],
  ];
}

/** Both ends, and what was passed on the way to them. */
function downAt({ fit }: SettingView, down: number, { page }: ReportWords): string | null {
  const point = fit?.points.find(({ downDb }) => downDb === down);
  if (!point) return null;
  const { lowHz, highHz, lowDipsHz = [], highDipsHz = [] } = point;
  const dips = [...(lowHz === null ? [] : lowDipsHz), ...(highHz === null ? [] : highDipsHz)];
  return page.glanceTable.downAt(
    lowHz,
    highHz,
    distinct(dips).sort((a, b) => a - b),
  );
}
