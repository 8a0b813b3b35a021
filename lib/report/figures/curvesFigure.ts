import { trustOf } from '../../analysis/conclusions/trustOf';
import type { Curve, Interval } from '../../model/curve';
import { nominalHz, thirdOctaveCentres } from '../../model/octaves';
import { makeRefusal } from '../../words/makeRefusal';
import type { ReportWords } from '../../words/reportWords';
import { drawCurve } from '../charts/drawCurve';
import { levelRange } from '../charts/levelRange';
import { linesChart } from '../charts/linesChart';
import { valueAt } from '../charts/valueAt';
import { plainName } from '../text';
import { trustedLevels } from './drawnSession';
import type { Figure } from './figure';
import { groupLines } from './groupLines';

/** Fine enough to leave a curve as it is: a bin is narrower than what 900 px can show of six octaves. */
const AS_IT_IS = 96;

/**
 * Curves as they are: responses and noise where there are any, else corrections, else harmonics, for these are on scales of their
 * own.
 *
 * @throws BassloomError `mixed-scales` where levels cannot stand on one axis.
 */
export function curvesFigure(curves: Curve[], words: ReportWords): Figure | undefined {
  const fit = alike(curves).filter(({ frequencyHz }) => frequencyHz.length > 1);
  if (fit.length === 0) return undefined;
  const { items: shown, names, groups } = groupLines(fit, words);
  const [first] = shown;
  const other = shown.find(({ scale }) => scale !== first.scale);
  if (other && first.role !== 'harmonic') {
    throw makeRefusal('mixed-scales', { a: first.label, b: other.label, ofA: first.scale, ofB: other.scale });
  }
  const rangeHz: Interval = [
    Math.min(...shown.map(({ frequencyHz }) => frequencyHz[0])),
    Math.max(...shown.map(({ frequencyHz }) => frequencyHz[frequencyHz.length - 1])),
  ];
  const lines = shown.map((curve, k) =>
    drawCurve(curve, shown.length > 1 ? names[k] : '', { rangeHz, fraction: AS_IT_IS, trusted: trustOf(curve) }),
  );
  const trusted = trustedLevels(lines);
  const levels = trusted.length > 0 ? trusted : lines.flatMap(({ points }) => points.map(({ value }) => value));
  const { curves: told, frequencyHead } = words.figure;
  return {
    id: 'fig-curves',
    kind: 'curves',
    title: shown.length > 1 ? told.title : names[0] || told.title,
    caption: told.caption,
    text: told.text(shown.map((curve, k) => names[k] || plainName(curve.label))),
    build: linesChart({
      lines,
      groups,
      title: ({ chart }) => (first.role === 'harmonic' ? chart.harmonicAxis : chart.levelAxis(first.scale)),
      rangeHz,
      level: levelRange(levels, { mostDb: 80, leastDb: 10, headDb: 1, stepsDb: [1, 2, 5, 10, 20] }),
    }),
    table: {
      caption: told.tableCaption,
      head: [frequencyHead, ...shown.map(({ label }) => plainName(label))],
      rows: thirdOctaveCentres(...rangeHz).map((hz) => [
        String(nominalHz(hz)),
        ...lines.map((line) => valueAt(line, hz)),
      ]),
    },
  };
}

/** Of all curves those that can stand on one axis. */
function alike(curves: Curve[]): Curve[] {
  const roles: Curve['role'][][] = [['response', 'noise'], ['correction'], ['harmonic']];
  return (
    roles.map((wanted) => curves.filter(({ role }) => wanted.includes(role))).find(({ length }) => length > 0) ?? []
  );
}
