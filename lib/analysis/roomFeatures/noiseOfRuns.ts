import type { Curve, Interval } from '../../model/curve';
import { interpolate } from '../../model/interpolate';
import { steadyNoisePower } from '../../response/steadyNoise';
import { upperMedian } from '../fitting/upperMedian';
import { type Bins, roughBins, type SteadiedRun, steadied } from './roughBins';

/** Noise of one run, for each of its points. */
export interface RunNoise {
  /** Power of what is added to the sound, on the scale of the response. */
  power: Float64Array;
  /** Variance, as a part of the power, of what multiplies it: scatter from run to run and bin to bin. */
  scatter: Float64Array;
}

/** Variance of a normal variable over the median of its square. */
const NORMAL = 2.198;

/** Variance of the power that scatter from run to run may have: 0.5 dB. What is more is steep slopes of the room. */
const MOST_SCATTER = (0.5 * (Math.LN10 / 10)) ** 2;

/** Fewest points to read noise from. */
const FEWEST = 12;

/**
 * Estimate the noise in the bins of each run of one unit, from what the runs bring and show.
 *
 * @param curves runs of the same unit in the same setting and position. @param rangeHz where it is needed.
 * @returns the noise of each run; zero where nothing can be said.
 *
 * Notes: what a curve brings with it as `noiseDb` is used, steadied. Where two runs share a grid, the
 * roughness from bin to bin of their difference is noise too: all that is smooth and all that is the room's cancels.
 * A single run shows noise as roughness of its own where its grid is finer than about 1 Hz; on a coarser one room and
 * noise cannot be told apart. Roughness is a fourth difference, its size the median over an octave:
 * of the amplitude in the quieter half of the bins for what is added, of the level in the louder half for what
 * multiplies. The larger of brought and shown noise counts.
 */
export function noiseOfRuns(curves: Curve[], rangeHz: Interval): RunNoise[] {
  const loudness = curves.map((curve) => medianLevel(curve, rangeHz));
  const byLoudness = curves.map((_, i) => i).sort((a, b) => loudness[b] - loudness[a]);
  const runs = curves.map(steadied);
  return runs.map((run, i) => {
    const { frequencyHz, noiseDb } = run.curve;
    const partner = byLoudness.find((k) => k !== i && sameGrid(curves[k], run.curve));
    const noise = noiseShown(run, partner === undefined ? null : runs[partner], rangeHz);
    if (!noiseDb) return noise;
    const brought = steadyNoisePower(frequencyHz, noiseDb);
    return { ...noise, power: noise.power.map((power, k) => Math.max(power, brought[k])) };
  });
}

function noiseShown(run: SteadiedRun, partner: SteadiedRun | null, rangeHz: Interval): RunNoise {
  const { frequencyHz } = run.curve;
  const bins = roughBins(run, partner, rangeHz);
  const count = bins.hz.length;
  const none = () => new Float64Array(frequencyHz.length);
  if (count < FEWEST) return { power: none(), scatter: none() };
  const last = bins.hz[count - 1];
  const knotsHz: number[] = [];
  for (let hz = bins.hz[0]; hz < last * Math.SQRT2; hz *= Math.SQRT2) knotsHz.push(Math.min(hz, last));
  const knots = knotsHz.map((hz) => noiseAround(bins, hz));
  const spread = (values: number[]) => new Float64Array(interpolate(knotsHz, values, frequencyHz));
  return { power: spread(knots.map((k) => k.power)), scatter: spread(knots.map((k) => k.scatter)) };
}

// Over an octave, or the nearest dozen where that holds fewer.
function noiseAround({ hz, power, rough }: Bins, at: number): { power: number; scatter: number } {
  let from = 0;
  while (from < hz.length && hz[from] < at / Math.SQRT2) from++;
  let to = from;
  while (to < hz.length && hz[to] <= at * Math.SQRT2) to++;
  while (to - from < FEWEST) {
    if (from > 0) from--;
    if (to < hz.length) to++;
  }
  const middle = upperMedian(power.slice(from, to));
  const half = (): Half => ({ power: new Float64Array(to - from), rough: new Float64Array(to - from), count: 0 });
  const [below, rest] = [half(), half()];
  for (let i = from; i < to; i++) {
    const side = power[i] < middle ? below : rest;
    side.power[side.count] = power[i];
    side.rough[side.count++] = rough[i];
  }
  const [quiet, loud] = [typical(below), typical(rest)];
  // squared roughness of the amplitude = half of the added power (what is in phase) + a quarter of the power's scatter
  const slope = Math.max(0, (loud.rough - quiet.rough) / (loud.power - quiet.power));
  const scatter = Math.min(slope, MOST_SCATTER / 4) || 0;
  const added = Math.max(0, quiet.rough - scatter * quiet.power);
  return { power: 2 * added, scatter: 4 * scatter };
}

interface Half {
  power: Float64Array;
  rough: Float64Array;
  count: number;
}

/** Median power of some bins, and noise variance by their median roughness. */
function typical({ power, rough, count }: Half): { power: number; rough: number } {
  if (count === 0) return { power: 0, rough: 0 };
  return {
    power: upperMedian(power.subarray(0, count)),
    rough: NORMAL * upperMedian(rough.subarray(0, count)),
  };
}

function medianLevel({ frequencyHz, levelDb }: Curve, [lowHz, highHz]: Interval): number {
  return upperMedian(Float64Array.from(levelDb.filter((_, i) => frequencyHz[i] >= lowHz && frequencyHz[i] <= highHz)));
}

function sameGrid(a: Curve, b: Curve): boolean {
  return (
    a.frequencyHz.length === b.frequencyHz.length &&
    a.frequencyHz.every((hz, i) => Math.abs(hz - b.frequencyHz[i]) < 1e-6 * hz)
  );
}
