import type { SettingDifference } from '../../model/findings';
import { nominalHz, thirdOctaveCentres } from '../../model/octaves';
import { differenceChart } from '../charts/differenceChart';
import { drawCurve } from '../charts/drawCurve';
import { levelRange } from '../charts/levelRange';
import { formatDbChange, formatHz, formatList } from '../format';
import { plainName } from '../text';
import { trustOf } from '../trust';
import { DRAWN_FRACTION, type DrawnSession, valueAt } from './drawnSession';
import type { Figure } from './figure';

/** What a switch changes over frequency. */
export function differenceFigure(
  drawn: DrawnSession,
  difference: SettingDifference,
  index: number,
): Figure | undefined {
  const [a, b] = [difference.a, difference.b].map(plainName);
  const line = drawCurve(difference.curve, '', {
    rangeHz: drawn.rangeHz,
    fraction: DRAWN_FRACTION,
    trusted: trustOfDifference(difference, drawn),
  });
  if (line.points.length === 0) return undefined;
  const trusted = line.points.filter((point) => point.trusted);
  const shown = (trusted.length > 0 ? trusted : line.points).map((point) => point.value);
  const values = difference.at.map(
    ({ frequencyHz, differenceDb }) => `${formatDbChange(differenceDb)} at ${formatHz(frequencyHz)}`,
  );
  const hinge = difference.hingeHz === null ? 'No hinge was found.' : `Hinge at ${formatHz(difference.hingeHz)}.`;
  return {
    id: `fig-difference-${index}`,
    kind: 'difference',
    title: `‘${a}’ against ‘${b}’`,
    caption: `What the switch changes: level with ‘${a}’ minus level with ‘${b}’. The hinge is where half of the difference at the bottom is reached. Numbers below the axis: the difference in dB at those frequencies; rings, dots and brackets are not to be trusted. Drawn after smoothing over 1/${DRAWN_FRACTION} octave.`,
    text: `${hinge} ${formatList(values)}.`,
    build: differenceChart({
      line,
      difference,
      rangeHz: drawn.rangeHz,
      level: levelRange([...shown, 0, ...difference.at.filter((one) => one.trusted).map((one) => one.differenceDb)], {
        leastDb: 8,
        headDb: 1,
        stepsDb: [1, 2, 5, 10],
      }),
    }),
    table: {
      caption: `Level with ‘${a}’ minus level with ‘${b}’, dB, read at third-octave frequencies`,
      head: ['Frequency in Hz', 'Difference in dB'],
      rows: thirdOctaveCentres(...drawn.rangeHz).map((hz) => [String(nominalHz(hz)), valueAt(line, hz)]),
    },
  };
}

/**
 * Trusted where the runs of both settings are; where those are not known, above the highest tabulated frequency
 * that was not trusted.
 */
function trustOfDifference({ curve, at, a, b }: SettingDifference, drawn: DrawnSession): (hz: number) => boolean {
  const views = drawn.session.settings.filter(({ setting }) => setting === plainName(a) || setting === plainName(b));
  const runs = views.flatMap(({ judged, ladder }) => (judged ? [trustOf(judged, ladder)] : []));
  const own = curve.noiseDb ? [trustOf(curve)] : [];
  const tests = [...own, ...runs, aboveDoubt(at)];
  return (hz) => tests.every((test) => test(hz));
}

function aboveDoubt(at: SettingDifference['at']): (hz: number) => boolean {
  const doubtful = at.filter((one) => !one.trusted).map((one) => one.frequencyHz);
  const highest = Math.max(0, ...doubtful);
  const next = Math.min(...at.filter((one) => one.trusted && one.frequencyHz > highest).map((one) => one.frequencyHz));
  const edge = highest > 0 && Number.isFinite(next) ? Math.sqrt(highest * next) : highest;
  return (hz) => hz > edge;
}
