import { interpolate } from '../../../model/interpolate';
import { bandAround } from '../../../model/octaves';
import { median } from '../../fitting/median';
import type { BandNoise, Rung } from '../cells';

/** dB^2 of level variance for each unit of noise-to-signal power: (20/ln 10)^2 / 2. */
const DB2_PER_RATIO = (20 / Math.LN10) ** 2 / 2;
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
    const [a, b] = [rungs[i].curves[0], upper.curves[0]];
    const low = Math.max(a.frequencyHz[0], b.frequencyHz[0]);
    const high = Math.min(a.frequencyHz[a.frequencyHz.length - 1], b.frequencyHz[b.frequencyHz.length - 1]);
    return bandsHz.map((centre, band) => {
      const edges = bandAround(centre, 3);
      if (edges[0] < low || edges[1] > high) return null;
      const hz = a.frequencyHz.filter((f) => f >= edges[0] && f <= edges[1]);
      if (hz.length < POINTS) return null;
      const [la, lb] = [a, b].map((curve) => interpolate(curve.frequencyHz, curve.levelDb, hz));
      const noisePower = noiseOf(i)[band].power || 0;
      const power = (levels: number[]) => levels.reduce((sum, db) => sum + 10 ** (-db / 10), 0) / levels.length;
      const noise = Math.sqrt(DB2_PER_RATIO * noisePower * (power(la) + power(lb)));
      return {
        rough: offLine(
          hz,
          lb.map((db, k) => db - la[k]),
        ),
        noise,
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
