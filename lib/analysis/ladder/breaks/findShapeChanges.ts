import { bandAround } from '../../../model/octaves';
import { median } from '../../fitting/median';
import type { BandNoise, Rung } from '../cells';
import { noiseAmong, pointNoise, pointsWithin, stepPoints } from './stepPoints';

/** A band with fewer points shows no shape. */
const POINTS = 5;
/** The shape within a band changes where points leave a straight line by this, dB, and by so many times the noise ... */
const CHANGE_DB = 0.5;
const TIMES_NOISE = 2;
/** ... and so many times what they do in the other steps, in this share of the bands. */
const TIMES_OTHERS = 3;
const SHARE = 0.4;
const FEWEST_BANDS = 3;

/**
 * Find rungs whose points differ from those of the rung before as neither noise nor compression makes them: the microphone
 * moved, or a smoothing or filter changed. Band levels alone may hide that.
 *
 * @returns of each rung, whether it differs so from the one before; false for the first.
 *
 * Notes: within a third octave the level difference of two rungs of one unit lies on a straight line but for the noise.
 */
export function findShapeChanges(rungs: Rung[], bandsHz: number[], noiseOf: (rung: number) => BandNoise[]): boolean[] {
  const steps = rungs.slice(1).map((upper, i) => {
    const points = stepPoints(rungs[i], upper, pointNoise(bandsHz, noiseOf(i)));
    const { frequencyHz, differenceDb } = points;
    return bandsHz.map((centre) => {
      const edges = bandAround(centre, 3);
      if (edges[0] < points.range[0] || edges[1] > points.range[1]) return null;
      const [from, to] = pointsWithin(frequencyHz, edges);
      if (to - from + 1 < POINTS) return null;
      return { rough: offLine(frequencyHz, differenceDb, from, to), noise: () => noiseAmong(points, from, to) };
    });
  });
  const others = (band: number) => median(steps.flatMap((step) => (step[band] ? [step[band].rough] : [])));
  const usual = bandsHz.map((_, band) => others(band));
  const changed = steps.map((step) => {
    const known = step.flatMap((one, band) => (one ? [{ ...one, usual: steps.length > 2 ? usual[band] : 0 }] : []));
    const odd = known.filter(
      ({ rough, usual, noise }) => rough > Math.max(CHANGE_DB, TIMES_OTHERS * usual) && rough > TIMES_NOISE * noise(),
    );
    return odd.length >= Math.max(FEWEST_BANDS, SHARE * known.length);
  });
  return [false, ...changed];
}

/** Standard deviation of some points from the straight line through them, the ends weighing as the middle. */
function offLine(x: number[], y: number[], from: number, to: number): number {
  const count = to - from + 1;
  let [mx, my] = [0, 0];
  for (let i = from; i <= to; i++) {
    mx += x[i] / count;
    my += y[i] / count;
  }
  let [xx, xy] = [0, 0];
  for (let i = from; i <= to; i++) {
    xx += (x[i] - mx) ** 2;
    xy += (x[i] - mx) * (y[i] - my);
  }
  let squares = 0;
  for (let i = from; i <= to; i++) squares += (y[i] - my - (xy / xx) * (x[i] - mx)) ** 2;
  return Math.sqrt(squares / (count - 2));
}
