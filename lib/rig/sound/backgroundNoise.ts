import { bandAround } from '../../model/octaves';
import { microphoneErrorDb } from '../microphoneError';
import { noiseFloorDb } from '../noiseFloor';
import type { Random } from '../random';
import type { RigSpec } from '../rigSpec';

/**
 * What a sweep from 5 to 400 Hz in 20 s makes of noise: its level in the response at 20 Hz over its density there, by
 * f T / L with L = 4.6 s for each e-fold and T = 1.8 s of the impulse response.
 */
export const SWEEP_NOISE_DB = 9;

/** Below, the floor no longer rises: it would have no end. */
const LOWEST_HZ = 1;

/**
 * Density of the noise at a frequency, as the microphone reads it and without hum.
 *
 * @param rig its noise and its microphone. @param hz frequency, Hz.
 * @returns dB re 20 uPa of the power in one hertz; -Infinity for silence.
 */
export function noiseDensityDb({ noise, microphone }: Pick<RigSpec, 'noise' | 'microphone'>, hz: number): number {
  if (!noise) return Number.NEGATIVE_INFINITY;
  return noiseFloorDb({ ...noise, hum: undefined }, Math.max(hz, LOWEST_HZ)) + microphoneErrorDb(microphone, hz);
}

/**
 * Level of the noise in fractional-octave bands, without hum.
 *
 * @param centresHz Hz. @param fraction 3 for third octaves.
 * @returns dB re 20 uPa, the integral of the density over each band.
 */
export function noiseBandDb(rig: Pick<RigSpec, 'noise' | 'microphone'>, centresHz: number[], fraction = 3): number[] {
  const intervals = 64;
  return centresHz.map((centre) => {
    const [low, high] = bandAround(centre, fraction);
    let sum = 0;
    for (let i = 0; i < intervals; i++) {
      const middle = low + ((high - low) * (i + 0.5)) / intervals;
      sum += 10 ** (noiseDensityDb(rig, middle) / 10) * ((high - low) / intervals);
    }
    return 10 * Math.log10(sum);
  });
}

/** Lines of the mains that the microphone picks up: the first `db` above the density there, the second 6 dB lower. */
export function humLines({ noise, microphone }: Pick<RigSpec, 'noise' | 'microphone'>) {
  if (!noise?.hum) return [];
  const { hz, db } = noise.hum;
  const firstDb = noiseFloorDb({ ...noise, hum: undefined }, hz) + db;
  return [1, 2].map((order) => ({
    frequencyHz: order * hz,
    levelDb: firstDb - 20 * Math.log10(order) + microphoneErrorDb(microphone, order * hz),
  }));
}

/**
 * Add Gaussian noise to a spectrum, in place.
 *
 * @param bins spectrum as `realFft` gives it; peaks on the scale of levels. @param rateHz sample rate.
 * @param topHz where the noise ends. @param random the run's own source.
 *
 * Notes: each bin gets an independent complex normal deviate, so the power of any band scatters as that of real
 * noise does. The level of a sine is that of its peak here, hence twice the mean square.
 */
export function addNoiseTo(
  bins: Float64Array,
  rig: Pick<RigSpec, 'noise' | 'microphone'>,
  rateHz: number,
  topHz: number,
  random: Random,
): void {
  if (!rig.noise) return;
  const length = bins.length - 2;
  const stepHz = rateHz / length;
  const perAxisDb = 10 * Math.log10((length * rateHz) / 8);
  for (let k = 1; k * stepHz < topHz; k++) {
    const size = 10 ** ((noiseDensityDb(rig, k * stepHz) + perAxisDb) / 20);
    bins[2 * k] += size * random.normal();
    bins[2 * k + 1] += size * random.normal();
  }
}
