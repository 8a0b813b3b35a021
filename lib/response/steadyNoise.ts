import type { Curve } from '../model/curve';
import { powerMeanDb } from '../model/decibel';
import { smoothLevels } from './smoothLevels';

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
export function steadyNoise(noiseRun: Curve): number[] {
  const { frequencyHz: f, levelDb } = noiseRun;
  const half = 2 ** (1 / 12);
  return smoothLevels(f, levelDb, 6).map((level, i) => {
    // False also beyond the ends, where the window has shrunk.
    const enough = f[i + NEIGHBOURS] < f[i] * half && f[i - NEIGHBOURS] > f[i] / half;
    return enough ? level : powerMeanDb(levelDb.slice(Math.max(i - NEIGHBOURS, 0), i + NEIGHBOURS + 1));
  });
}
