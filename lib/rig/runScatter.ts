import { waveDb } from './microphoneError';
import type { Random } from './random';
import type { RigSpec } from './rigSpec';

const SHAPE_WAVES = 4;

/**
 * Draw what one run is off by: as a whole, and in smooth waves over frequency.
 *
 * @param scatter standard deviations, dB. @param random the run's own source.
 * @returns dB to be added, by frequency in Hz.
 *
 * @example
 * runScatter({ gainDb: 0.1, shapeDb: 0 }, randomFrom([1]))(40)
 */
export function runScatter({ gainDb, shapeDb }: RigSpec['scatter'], random: Random): (hz: number) => number {
  const gain = gainDb * random.normal();
  // n sines of amplitude a have the variance n a^2 / 2
  const db = shapeDb * Math.sqrt(2 / SHAPE_WAVES);
  const waves = Array.from({ length: SHAPE_WAVES }, () => ({
    db,
    octaves: random.between(0.7, 3),
    phase: random.between(0, 2 * Math.PI),
  }));
  return (hz) => waves.reduce((sum, wave) => sum + waveDb(wave, hz), gain);
}
