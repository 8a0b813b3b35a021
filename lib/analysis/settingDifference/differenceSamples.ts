import type { Curve, Interval } from '../../model/curve';
import { isInside } from '../../response/intervals';
import { SAMPLES_PER_OCTAVE } from '../fitting/logSamples';
import { pointScatter } from '../fitting/pointScatter';

/** A difference of two curves, thinned out to about even steps in log frequency. */
export interface DifferenceSamples {
  hz: number[];
  differenceDb: Float64Array;
  /** Standard deviation of each sample by noise and scatter, dB. */
  sigma: Float64Array;
}

/** Points that scatter by more than this are noise, dB. */
const MOST_SCATTER_DB = 2;
/** No sample is believed closer than this, dB: files hold two decimals, and rooms do not stand still. */
const LEAST_SIGMA_DB = 0.02;

/**
 * Thin a difference out to at most 16 samples per octave.
 *
 * @param difference a - b on one grid. @param scatterDb of each of its points, by the noise of both runs; 0 where it is
 * not known. @param masksHz where not to look.
 *
 * Notes: decibels are averaged, not powers: the mean of 20 lg |1 + n| over a complex Gaussian n is 0 as long as |n| < 1,
 * so that noise does not bend the difference, while a difference of power means is bent by it.
 */
export function differenceSamples(
  difference: Curve,
  scatterDb: Float64Array,
  masksHz: readonly Interval[],
): DifferenceSamples {
  const { frequencyHz: f, levelDb } = difference;
  const seen = pointScatter(difference).db;
  const out = { hz: [] as number[], differenceDb: [] as number[], sigma: [] as number[] };
  let i = 0;
  while (i < f.length) {
    const cell = cellOf(f[i]);
    let [weights, sum, logs] = [0, 0, 0];
    for (; i < f.length && cellOf(f[i]) === cell; i++) {
      const sigma = Math.max(seen[i], scatterDb[i], LEAST_SIGMA_DB);
      if (sigma > MOST_SCATTER_DB || isInside(f[i], masksHz)) continue;
      const weight = 1 / sigma ** 2;
      weights += weight;
      sum += weight * levelDb[i];
      logs += weight * Math.log(f[i]);
    }
    if (weights === 0) continue;
    out.hz.push(Math.exp(logs / weights));
    out.differenceDb.push(sum / weights);
    out.sigma.push(Math.max(LEAST_SIGMA_DB, 1 / Math.sqrt(weights)));
  }
  return { hz: out.hz, differenceDb: Float64Array.from(out.differenceDb), sigma: Float64Array.from(out.sigma) };
}

function cellOf(hz: number): number {
  return Math.floor(Math.log2(hz) * SAMPLES_PER_OCTAVE);
}
