import type { Curve, Interval } from '../../model/curve';
import { isInside } from '../../response/intervals';
import { SAMPLES_PER_OCTAVE } from '../fitting/logSamples';
import { pointScatter } from '../fitting/pointScatter';

/** A difference of two curves, thinned out to about even steps in log frequency. */
export interface DifferenceSamples {
  hz: number[];
  differenceDb: Float64Array;
  /** Standard deviation of each sample by noise, dB. */
  scatterDb: Float64Array;
  /** The same with what no fit is expected to follow more closely. */
  sigma: Float64Array;
}

/** Points that scatter by more than this are noise, dB: two bins 10 dB above theirs scatter by 2.7. */
const MOST_SCATTER_DB = 3;
/** What is left of a fit runs in waves of a few hundredths of a dB; a sample of 1/16 octave is not believed closer. */
const LEAST_SIGMA_DB = 0.1;

/**
 * Thin a difference out to at most 16 samples per octave.
 *
 * @param difference a - b on one grid. @param noiseScatterDb of each of its points; 0 where the noise is not known.
 * @param leaveOutHz masks, and where the runs do not stand out of the noise.
 * @returns samples, and for each point whether it was used.
 *
 * Notes: decibels are averaged, not powers: the mean of 20 lg |1 + n| over a complex Gaussian n is next to 0 where |n| is
 * small, so that noise does not bend the difference, while a difference of power means is bent by it.
 */
export function differenceSamples(
  difference: Curve,
  noiseScatterDb: ArrayLike<number>,
  leaveOutHz: readonly Interval[],
): { samples: DifferenceSamples; used: boolean[] } {
  const { frequencyHz: f, levelDb } = difference;
  const seen = pointScatter(difference).db;
  const used = f.map((hz, i) => seen[i] <= MOST_SCATTER_DB && !isInside(hz, leaveOutHz));
  const [hz, differenceDb, scatterDb]: [number[], number[], number[]] = [[], [], []];
  let i = 0;
  while (i < f.length) {
    const cell = cellOf(f[i]);
    let [weights, sum, logs] = [0, 0, 0];
    for (; i < f.length && cellOf(f[i]) === cell; i++) {
      if (!used[i]) continue;
      const weight = 1 / Math.max(seen[i], noiseScatterDb[i], 0.01) ** 2;
      weights += weight;
      sum += weight * levelDb[i];
      logs += weight * Math.log(f[i]);
    }
    if (weights === 0) continue;
    hz.push(Math.exp(logs / weights));
    differenceDb.push(sum / weights);
    scatterDb.push(1 / Math.sqrt(weights));
  }
  const samples = {
    hz,
    differenceDb: Float64Array.from(differenceDb),
    scatterDb: Float64Array.from(scatterDb),
    sigma: Float64Array.from(scatterDb, (db) => Math.hypot(LEAST_SIGMA_DB, db)),
  };
  return { samples, used };
}

function cellOf(hz: number): number {
  return Math.floor(Math.log2(hz) * SAMPLES_PER_OCTAVE);
}

/** Those up to a frequency. */
export function samplesUpTo(
  { hz, differenceDb, scatterDb, sigma }: DifferenceSamples,
  topHz: number,
): DifferenceSamples {
  const count = hz.filter((f) => f <= topHz).length;
  return {
    hz: hz.slice(0, count),
    differenceDb: differenceDb.slice(0, count),
    scatterDb: scatterDb.slice(0, count),
    sigma: sigma.slice(0, count),
  };
}
