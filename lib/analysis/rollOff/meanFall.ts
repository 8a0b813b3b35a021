import type { Interval } from '../../model/curve';
import { levelOf, powerOf } from '../../model/decibel';
import type { LogSamples } from '../fitting/logSamples';

/** A slope is read over no less than this, octaves. */
const LEAST_OCTAVES = 0.5;

/**
 * Mean slope of a fall that no high-pass describes: of the straight line in dB over octaves that comes nearest to the
 * curve from its lowest trusted frequency up to its corner.
 *
 * @param samples a roll-off, lowest first. @param cornerHz where the fall begins; at least half an octave is used.
 * @returns dB per octave, and the range it was read over, Hz.
 */
export function meanFall(
  { hz, levelDb, noisePower, octaves }: LogSamples,
  cornerHz: number,
): { slopeDbPerOctave: number; rangeHz: Interval } {
  const high = Math.max(cornerHz, hz[0] * 2 ** LEAST_OCTAVES);
  let [n, sx, sy, sxx, sxy] = [0, 0, 0, 0, 0];
  let last = 0;
  for (let i = 0; i < hz.length && (hz[i] <= high || i < 2); i++) {
    const x = Math.log2(hz[i] / hz[0]);
    const power = powerOf(levelDb[i]);
    const level = levelOf(Math.max(power - noisePower[i], 0.1 * power));
    n += octaves[i];
    sx += octaves[i] * x;
    sy += octaves[i] * level;
    sxx += octaves[i] * x * x;
    sxy += octaves[i] * x * level;
    last = i;
  }
  return { slopeDbPerOctave: (n * sxy - sx * sy) / (n * sxx - sx * sx), rangeHz: [hz[0], hz[last]] };
}
