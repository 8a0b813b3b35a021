import { hann } from '../../signal/windows';
import { solveDamped } from '../fitting/solveDamped';

/** Level of a tone over time. */
export interface ToneLevels {
  /** dB re a full-scale sine, one for each stretch. */
  levelDb: Float64Array;
  /** Distance of the stretches, and their length, samples; they overlap by half. */
  hop: number;
  length: number;
  sampleRateHz: number;
}

/**
 * Level of a tone of known frequency, stretch by stretch: sine, cosine and offset fitted by least squares under a Hann
 * window.
 *
 * @param samples one channel. @param sampleRateHz Hz. @param frequencyHz of the tone.
 *
 * Notes: stretches of 0.1 s or ten cycles; a frequency wrong by half a hertz costs 0.02 dB.
 */
export function toneLevels(samples: Float64Array, sampleRateHz: number, frequencyHz: number): ToneLevels {
  const hop = Math.max(1, Math.ceil(0.5 * Math.max(0.1, 10 / frequencyHz) * sampleRateHz));
  const length = 2 * hop;
  const window = hann(length, 'periodic');
  const turn = (2 * Math.PI * frequencyHz) / sampleRateHz;
  const basis = [
    Float64Array.from({ length }, (_, n) => Math.cos(turn * n)),
    Float64Array.from({ length }, (_, n) => Math.sin(turn * n)),
    new Float64Array(length).fill(1),
  ];
  const weighted = basis.map((column) => column.map((value, n) => value * window[n]));
  const normal = Float64Array.from({ length: 9 }, (_, i) => dot(weighted[Math.floor(i / 3)], basis[i % 3], 0));
  const count = Math.max(0, Math.floor((samples.length - length) / hop) + 1);
  const levelDb = Float64Array.from({ length: count }, (_, k) => {
    const gradient = Float64Array.from(weighted, (column) => dot(column, samples, k * hop));
    const [cosine, sine] = solveDamped(normal, gradient, 0);
    return 10 * Math.log10(Math.max(cosine ** 2 + sine ** 2, 1e-30));
  });
  return { levelDb, hop, length, sampleRateHz };
}

function dot(a: Float64Array, b: Float64Array, offset: number): number {
  let sum = 0;
  for (let n = 0; n < a.length; n++) sum += a[n] * b[n + offset];
  return sum;
}
