import { bandAround } from '../../../model/octaves';
import { median } from '../../fitting/median';
import type { BandNoise, Rung } from '../cells';
import { noiseAmong, pointNoise, stepPoints } from './stepPoints';

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
      const from = frequencyHz.findIndex((hz) => hz >= edges[0]);
      const to = frequencyHz.findLastIndex((hz) => hz <= edges[1]);
      if (to - from + 1 < POINTS) return null;
      return {
        rough: offLine(frequencyHz.slice(from, to + 1), differenceDb.slice(from, to + 1)),
        noise: noiseAmong(points, from, to),
      };
    });
  });
  const others = (band: number) => median(steps.flatMap((step) => (step[band] ? [step[band].rough] : [])));
  const usual = bandsHz.map((_, band) => others(band));
  const changed = steps.map((step) => {
    const known = step.flatMap((one, band) => (one ? [{ ...one, usual: steps.length > 2 ? usual[band] : 0 }] : []));
    const odd = known.filter(
      (one) => one.rough > Math.max(CHANGE_DB, TIMES_NOISE * one.noise, TIMES_OTHERS * one.usual),
    );
    return odd.length >= Math.max(FEWEST_BANDS, SHARE * known.length);
  });
  return [false, ...changed];
}

/** Standard deviation from the straight line through some points, the ends weighing as the middle. */
function offLine(x: number[], y: number[]): number {
  const mean = (values: number[]) => values.reduce((sum, value) => sum + value, 0) / values.length;
  const [mx, my] = [mean(x), mean(y)];
  const xx = x.reduce((sum, value) => sum + (value - mx) ** 2, 0);
  const slope = x.reduce((sum, value, i) => sum + (value - mx) * (y[i] - my), 0) / xx;
  return Math.sqrt(y.reduce((sum, value, i) => sum + (value - my - slope * (x[i] - mx)) ** 2, 0) / (x.length - 2));
}
