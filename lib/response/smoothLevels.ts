import { levelOf, powersOf } from '../model/decibel';
import { centredMeans } from './centredMeans';

/**
 * Power-average a column of levels over 1/`fraction` octave: dB in, dB out.
 *
 * @param frequencyHz strictly rising, Hz. @param levelDb dB, one for each.
 * @returns dB, one for each; the window is that of `centredMeans`.
 *
 * @example
 * smoothLevels([10, 20, 40], [80, 80, 80], 3) // [80, 80, 80]
 */
export function smoothLevels(frequencyHz: ArrayLike<number>, levelDb: ArrayLike<number>, fraction: number): number[] {
  const means = centredMeans(frequencyHz, powersOf(levelDb), fraction);
  const out = new Array<number>(means.length);
  // Beyond some 250 dB between neighbours rounding can leave nothing of the quieter one.
  for (let i = 0; i < out.length; i++) out[i] = means[i] > 0 ? levelOf(means[i]) : levelDb[i];
  return out;
}
