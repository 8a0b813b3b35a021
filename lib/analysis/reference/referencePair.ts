import type { Curve } from '../../model/curve';
import type { Ladder } from '../../model/findings';
import { ladderOf, rungAt } from './ladderOf';
import { referenceCurves } from './referenceCurves';
import { soundBands } from './soundBands';

/**
 * Choose the two runs by which two settings of a unit are compared: both at one drive and position, the lowest drive at
 * which the most third-octave bands of both are trusted, 20 dB clear of the noise and lose less than 0.5 dB.
 *
 * @param a responses in one setting, @param b in the other. @param curves all curves, noise runs among them.
 * @param ladders where they are built already.
 * @returns one of `a` and one of `b`. Where no drive is common to both, or one is not known, the reference run of each at a common position;
 * undefined where no position is common.
 *
 * @example
 * const run = (setting: string) => makeCurve({ frequencyHz: [20, 40], levelDb: [80, 80], about: { setting } });
 * referencePair([run('flat')], [run('deep')]) // those two
 */
export function referencePair(
  a: Curve[],
  b: Curve[],
  curves: Curve[] = [...a, ...b],
  ladders: Ladder[] = [],
): [Curve, Curve] | undefined {
  const pairs = a.flatMap((one): [Curve, Curve][] => {
    const other = b.find(({ about }) => isAlike(about, one.about));
    return other ? [[one, other]] : [];
  });
  if (pairs.length === 0) return pairOfReferences(a, b, curves, ladders);
  if (pairs.length === 1) return pairs[0];
  const sides = [a, b].map((side) => {
    const ladder = ladderOf(side[0].about, curves, ladders);
    return { ladder, sound: ladder ? soundBands(ladder) : [] };
  });
  const soundness = (pair: [Curve, Curve]): number => {
    const [inA, inB] = sides.map(({ ladder, sound }, i) => {
      const bands = sound[rungAt(ladder, pair[i].about.driveDb)] ?? [];
      return new Set(ladder?.bandsHz.filter((_hz, band) => bands[band]));
    });
    return [...inA].filter((hz) => inB.has(hz)).length;
  };
  const driveOf = ([{ about }]: [Curve, Curve]): number => about.driveDb ?? 0;
  return pairs.reduce((best, pair) => {
    const better = soundness(pair) - soundness(best) || driveOf(best) - driveOf(pair);
    return better > 0 ? pair : best;
  });
}

function pairOfReferences(a: Curve[], b: Curve[], curves: Curve[], ladders: Ladder[]): [Curve, Curve] | undefined {
  const noise = curves.filter((curve) => curve.role === 'noise');
  const [ofA, ofB] = [a, b].map((side) => referenceCurves([...side, ...noise], ladders));
  for (const one of ofA) {
    const other = ofB.find(({ about }) => about.position === one.about.position);
    if (other) return [one, other];
  }
  return undefined;
}

function isAlike(a: Curve['about'], b: Curve['about']): boolean {
  if (a.position !== b.position) return false;
  if (a.driveDb === undefined || b.driveDb === undefined) return a.driveDb === b.driveDb;
  return Math.abs(a.driveDb - b.driveDb) < 0.01;
}
