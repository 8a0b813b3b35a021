import { trustOf } from '../../analysis/conclusions/trustOf';
import { nominalHz, thirdOctaveCentres } from '../../model/octaves';
import { drawCurve } from '../charts/drawCurve';
import { linesChart } from '../charts/linesChart';
import { valueAt } from '../charts/valueAt';
import { DRAWN_FRACTION, type DrawnSession, type DrawnSetting, trustedLevels, wholeRange } from './drawnSession';
import type { Figure } from './figure';

/** The run that a roll-off was read from, with its corner marked. */
export function rollOffFigure(drawn: DrawnSession, { view }: DrawnSetting, index: number): Figure | undefined {
  const { rollOff, curves, ladder, name } = view;
  const curve = curves.find(({ id }) => id === rollOff?.curve);
  if (!rollOff || !curve) return undefined;
  const { words, scale } = drawn.session;
  const { rangeHz } = drawn;
  const line = drawCurve(curve, '', { rangeHz, fraction: DRAWN_FRACTION, trusted: trustOf(curve, ladder) });
  const { f0Hz, slopeDbPerOctave, rangeHz: fitted } = rollOff;
  const told = words.chart.rollOff(f0Hz, slopeDbPerOctave, fitted);
  return {
    id: `fig-roll-off-${index}`,
    kind: 'roll-off',
    title: words.figure.rollOff.title(name),
    caption: words.figure.rollOff.caption,
    text: words.figure.rollOff.text(told),
    build: linesChart({
      lines: [line],
      title: ({ chart }) => chart.levelAxis(scale),
      marks: { hz: f0Hz === null ? [] : [f0Hz], ofRangeHz: fitted, text: () => told },
      rangeHz,
      level: wholeRange(trustedLevels([line]), []),
    }),
    table: {
      caption: words.figure.response.tableCaption(name),
      head: [words.figure.frequencyHead, words.figure.overview.levelOf(name)],
      rows: thirdOctaveCentres(...rangeHz).map((hz) => [String(nominalHz(hz)), valueAt(line, hz)]),
    },
  };
}
