import { powersOf } from '../model/decibel';
import { centredMeans } from './centredMeans';

/**
 * Power-average a column of levels over 1/`fraction` octave: dB in, powers out.
 *
 * @param frequencyHz strictly rising, Hz. @param levelDb dB, one for each.
 * @returns 10^(dB/10), one for each; the window is that of `centredMeans`.
 *
 * @example
 * smoothPowers([10, 20, 40], [20, 20, 20], 3) // [100, 100, 100]
 */
export function smoothPowers(
  frequencyHz: ArrayLike<number>,
  levelDb: ArrayLike<number>,
  fraction: number,
): Float64Array {
  const power = powersOf(levelDb);
  const means = centredMeans(frequencyHz, power, fraction);
  // Beyond some 250 dB between neighbours rounding can leave nothing of the quieter one.
  for (let i = 0; i < means.length; i++) if (!(means[i] > 0)) means[i] = power[i];
  return means;
}
