import type { Curve } from '../../model/curve';
import { powerOf } from '../../model/decibel';

/** Neighbours on either side that are looked at in the least, and octaves. */
const NEIGHBOURS = 4;
const OCTAVES = 1 / 4;

export interface PointScatter {
  /** What each point scatters by chance, dB (standard deviation). */
  db: Float64Array;
  /** How many independent looks at the noise each point is the mean of: 1 for a raw bin, many for a smoothed curve. */
  looks: Float64Array;
}

/**
 * Estimate by how much each point of a curve scatters by chance.
 *
 * @param curve any curve. @returns one value for each point; no scatter with fewer than three points.
 *
 * Read from how far points lie off the straight line between their neighbours, averaged over half an octave. Noise of
 * an unsmoothed curve shows in full; that of a smoothed one, whose neighbours scatter together, does not. A structure
 * as narrow as the grid counts as scatter. Where the noise is known, the scatter is at least what that noise makes of a
 * raw bin, 4.34 sqrt(2 / snr + 1 / snr^2) dB (closed form, small scatter), and what is seen against this tells how
 * many looks each point is the mean of.
 */
export function pointScatter(curve: Curve): PointScatter {
  const { frequencyHz: f, levelDb: y, noiseDb } = curve;
  const last = y.length - 1;
  const off = runningSum(y, (i) => {
    if (i === 0 || i === last) return 0;
    const t = (f[i] - f[i - 1]) / (f[i + 1] - f[i - 1]);
    const spread = Math.sqrt(1 + t * t + (1 - t) ** 2);
    return Math.abs(y[i] - (1 - t) * y[i - 1] - t * y[i + 1]) / spread;
  });
  const power = noiseDb && runningSum(y, (i) => powerOf(y[i]));
  const noise = noiseDb && runningSum(y, (i) => powerOf(noiseDb[i]));
  const db = new Float64Array(y.length);
  const looks = new Float64Array(y.length).fill(1);
  let from = 0;
  let to = 0;
  for (let i = 0; i <= last; i++) {
    while (f[from] < f[i] / 2 ** OCTAVES) from++;
    while (to < last && f[to + 1] <= f[i] * 2 ** OCTAVES) to++;
    const low = Math.max(1, Math.min(from, i - NEIGHBOURS));
    const high = Math.min(last - 1, Math.max(to, i + NEIGHBOURS));
    if (high < low) continue;
    const over = (sum: Float64Array) => sum[high + 1] - sum[low];
    // Mean size of a normal deviate is 0.798 of its standard deviation.
    db[i] = over(off) / (high - low + 1) / Math.sqrt(2 / Math.PI);
    if (!power || !noise) continue;
    const rawDb = noiseScatterDb(over(power) / over(noise) - 1);
    looks[i] = Math.max(1, (rawDb / Math.max(db[i], 1e-3)) ** 2);
    db[i] = Math.max(db[i], rawDb);
  }
  return { db, looks };
}

function noiseScatterDb(signalToNoise: number): number {
  const snr = Math.max(signalToNoise, 0.1);
  return (10 / Math.LN10) * Math.sqrt(2 / snr + 1 / snr ** 2);
}

function runningSum(values: ArrayLike<number>, of: (i: number) => number): Float64Array {
  const sum = new Float64Array(values.length + 1);
  for (let i = 0; i < values.length; i++) sum[i + 1] = sum[i] + of(i);
  return sum;
}
