import type { Caveat } from '../../model/caveat';
import { formatDb, formatHz, formatShort, NO_BREAK } from '../format';
import type { SettingView } from '../session';
import { cleanText } from '../verdict/distortionSentences';
import { averageName, GLANCE_HZ, outputText } from '../verdict/outputSentences';
import { flagged } from './glanceCells';

/** A row of the table at a glance: its name and the cell of each setting. */
export type GlanceRow = [name: string, cell: (view: SettingView) => string | null];

/** How clean each setting stays and how loud it goes in bursts. */
export function soundRows(views: SettingView[]): GlanceRow[] {
  const percents = distinct(views.flatMap(({ distortion }) => distortion?.passes.map(({ percent }) => percent) ?? []));
  const averages = distinct(views.flatMap(({ maximumOutput }) => maximumOutput?.averages.map(averageName) ?? []));
  return [
    ...percents
      .sort((a, b) => a - b)
      .map(
        (percent): GlanceRow => [
          `THD below ${formatShort(percent)}${NO_BREAK}%`,
          (view) => flaggedOrNull(cleanText(view, percent), view.distortion),
        ],
      ),
    ...averages.map(
      (name): GlanceRow => [
        `Maximum output, ${name}`,
        (view) => flaggedOrNull(averageText(view, name), view.maximumOutput),
      ],
    ),
    ...GLANCE_HZ.map((hz): GlanceRow => [`Maximum output at ${formatHz(hz)}`, (view) => outputText(view, hz)]),
  ];
}

function averageText({ maximumOutput }: SettingView, name: string): string | null {
  const average = maximumOutput?.averages.find((one) => averageName(one) === name);
  if (!average) return null;
  if (average.peakAt1mDb === null || average.rmsAt2mDb === null) return 'not known: a centre is missing';
  return `${formatDb(average.peakAt1mDb)} peak, ${formatDb(average.rmsAt2mDb)} rms`;
}

function flaggedOrNull(text: string | null, finding: { caveats: Caveat[] } | undefined): string | null {
  return text === null || !finding ? text : flagged(text, finding);
}

function distinct<T>(values: T[]): T[] {
  return [...new Set(values)];
}
