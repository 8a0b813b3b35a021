import type { Curve } from '../model/curve';
import { levelOf, powersOf } from '../model/decibel';
import { smoothPowers } from './smoothPowers';

/** Neighbours on either side that a steady estimate takes in at the least. */
const NEIGHBOURS = 4;

/**
 * Levels of a noise run, steadied: what its bins hold on average rather than what they happened to hold.
 *
 * @param noiseRun a run made in silence. @returns dB, one for each of its frequencies.
 *
 * The power of noise in one bin is random (its level scatters by 5.6 dB in a single record). It is averaged over 1/6
 * octave; where that window holds fewer than four points on either side, over four points on either side. A tone such
 * as hum is thereby spread over that width.
 *
 * @example
 * steadyNoise(makeCurve({ frequencyHz: [10, 11, 12], levelDb: [30, 40, 30], role: 'noise' })) // 35.9 dB everywhere
 */
export function steadyNoise({ frequencyHz, levelDb }: Curve): number[] {
  return Array.from(steadyNoisePower(frequencyHz, levelDb), levelOf);
}

/** The same as powers. */
export function steadyNoisePower(f: ArrayLike<number>, levelDb: ArrayLike<number>): Float64Array {
  const half = 2 ** (1 / 12);
  const steady = smoothPowers(f, levelDb, 6);
  const power = powersOf(levelDb);
  for (let i = 0; i < steady.length; i++) {
    // False also beyond the ends, where the window has shrunk.
    const enough = f[i + NEIGHBOURS] < f[i] * half && f[i - NEIGHBOURS] > f[i] / half;
    if (!enough) steady[i] = meanOf(power, Math.max(i - NEIGHBOURS, 0), Math.min(i + NEIGHBOURS, f.length - 1));
  }
  return steady;
}

function meanOf(power: Float64Array, from: number, to: number): number {
  let sum = 0;
  for (let i = from; i <= to; i++) sum += power[i];
  return sum / (to - from + 1);
}
