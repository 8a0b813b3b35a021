import type { Random } from './random';

/**
 * Add complex Gaussian noise to a signal, independent from bin to bin.
 *
 * @param signalDb level of the signal, or undefined for none. @param signalDeg its phase.
 * @param noiseDb level of the mean noise power in each bin. @param random the run's own source.
 * @returns level and phase of the sum.
 *
 * @example
 * addNoise([80], [0], [60], randomFrom([1])).levelDb // about 80
 */
export function addNoise(
  signalDb: number[] | undefined,
  signalDeg: number[] | undefined,
  noiseDb: number[],
  random: Random,
): { levelDb: number[]; phaseDeg: number[] } {
  const levelDb = new Array<number>(noiseDb.length);
  const phaseDeg = new Array<number>(noiseDb.length);
  for (let i = 0; i < noiseDb.length; i++) {
    const perAxis = 10 ** (noiseDb[i] / 20) * Math.SQRT1_2;
    const amplitude = signalDb ? 10 ** (signalDb[i] / 20) : 0;
    const angle = signalDeg ? (signalDeg[i] * Math.PI) / 180 : 0;
    const re = amplitude * Math.cos(angle) + perAxis * random.normal();
    const im = amplitude * Math.sin(angle) + perAxis * random.normal();
    levelDb[i] = 10 * Math.log10(re * re + im * im);
    phaseDeg[i] = (Math.atan2(im, re) * 180) / Math.PI;
  }
  return { levelDb, phaseDeg };
}
