import type { NoiseSpec } from './rigSpec';

const LINE_HALF_WIDTH_HZ = 0.25;

/**
 * Expected level of the noise in a bin.
 *
 * @param noise the floor, its slope and its hum, or undefined for silence.
 * @param hz frequency, Hz.
 * @returns dB of the mean noise power, on the scale of the response; -Infinity for silence.
 *
 * Notes: a straight line over log frequency, plus Lorentzian lines at the mains frequency and its double (6 dB lower).
 *
 * @example
 * noiseFloorDb({ at20HzDb: 50, slopeDbPerOctave: -4 }, 80) // 42
 */
export function noiseFloorDb(noise: NoiseSpec | undefined, hz: number): number {
  if (!noise) return Number.NEGATIVE_INFINITY;
  const floorDb = (at: number) => noise.at20HzDb + noise.slopeDbPerOctave * Math.log2(at / 20);
  let power = 10 ** (floorDb(hz) / 10);
  if (noise.hum) {
    const first = 10 ** ((floorDb(noise.hum.hz) + noise.hum.db) / 10);
    for (const order of [1, 2]) {
      const away = (hz - order * noise.hum.hz) / LINE_HALF_WIDTH_HZ;
      power += first / order ** 2 / (1 + away * away);
    }
  }
  return 10 * Math.log10(power);
}
