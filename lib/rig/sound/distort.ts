import type { NonlinearitySpec } from './soundRigSpec';

/** Steepness of the stop; high keeps the curve a plain polynomial until shortly before. */
const STOP_POWER = 8;
const POINTS = 512;

/** The static curve F(e) of a nonlinearity; e = 1 is the limit. */
export function staticCurve({ coefficients, stopAt }: NonlinearitySpec): (excursion: number) => number {
  return (excursion) => {
    const e = stopAt ? excursion / (1 + (excursion / stopAt) ** STOP_POWER) ** (1 / STOP_POWER) : excursion;
    let sum = 0;
    for (let i = coefficients.length - 1; i >= 0; i--) sum = (sum + coefficients[i]) * e;
    return (sum + 1) * e;
  };
}

/**
 * Amplitudes that the static curve makes of a tone.
 *
 * @param spec the nonlinearity. @param amplitude of the excursion at its input, in limits. @param highest order wanted.
 * @returns amplitude of the fundamental, the second harmonic and so on, signed: F(a cos x) = sum of A_n cos n x.
 *
 * Notes: the discrete Fourier transform of one period in 512 points. For a polynomial it is exact; for the smooth stop
 * its error is of the size of harmonics near the 512th.
 *
 * @example
 * toneThrough({ excursionAt20HzDb: 100, coefficients: [0, 0.4] }, 1, 3) // [1.3, 0, 0.1]: cos^3 = (3 cos x + cos 3x) / 4
 */
export function toneThrough(spec: NonlinearitySpec, amplitude: number, highest: number): number[] {
  const curve = staticCurve(spec);
  const values = Array.from({ length: POINTS }, (_, i) => curve(amplitude * cosine(i)));
  return Array.from({ length: highest }, (_, i) => {
    const sum = values.reduce((all, value, k) => all + value * cosine((i + 1) * k), 0);
    return (2 * sum) / POINTS;
  });
}

const COSINES = Float64Array.from({ length: POINTS }, (_, i) => Math.cos((2 * Math.PI * i) / POINTS));

function cosine(turns: number): number {
  return COSINES[turns % POINTS];
}

/** The excursion that a nonlinearity makes of a wanted one. @param limit peak of the excursion at the limit. */
export function distortSound(spec: NonlinearitySpec, excursion: Float64Array, limit: number): Float64Array {
  const curve = staticCurve(spec);
  return excursion.map((value) => limit * curve(value / limit));
}
