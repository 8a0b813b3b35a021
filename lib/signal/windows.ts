/**
 * Hann window, (1 - cos(2 pi n / M)) / 2.
 *
 * @param length number of samples.
 * @param form 'symmetric' (M = length - 1, both ends zero) for filters and bursts, 'periodic' (M = length) for spectra.
 *
 * Reference: F. J. Harris, On the use of windows for harmonic analysis with the DFT, Proc. IEEE 66 (1978) 51-83.
 *
 * @example
 * hann(5) // [0, 0.5, 1, 0.5, 0]
 */
export function hann(length: number, form: 'symmetric' | 'periodic' = 'symmetric'): Float64Array {
  const window = new Float64Array(length).fill(1);
  const turn = (2 * Math.PI) / (form === 'symmetric' ? length - 1 : length);
  if (length > 1) for (let n = 0; n < length; n++) window[n] = (1 - Math.cos(turn * n)) / 2;
  return window;
}

/**
 * Rising half of a Hann window, from 0 at its first sample to just below 1; reversed it is the fade at the end.
 *
 * @param length number of samples of the fade; the sample after the last would be 1.
 *
 * Notes: rising and falling fade of the same length add up to 1 where they overlap by it.
 *
 * @example
 * halfHann(2) // [0, 0.5]
 */
export function halfHann(length: number): Float64Array {
  return Float64Array.from({ length }, (_, n) => (1 - Math.cos((Math.PI * n) / length)) / 2);
}

/**
 * Multiply both ends of some samples by a half-Hann fade, in place: the first and the last sample become 0.
 *
 * @param samples what is faded. @param fadeIn @param fadeOut lengths in samples.
 *
 * @example
 * fadeEnds(new Float64Array(4).fill(1), 2, 2) // [0, 0.5, 0.5, 0]
 */
export function fadeEnds(samples: Float64Array, fadeIn: number, fadeOut: number): Float64Array {
  halfHann(fadeIn).forEach((gain, n) => {
    samples[n] *= gain;
  });
  halfHann(fadeOut).forEach((gain, n) => {
    samples[samples.length - 1 - n] *= gain;
  });
  return samples;
}

/**
 * Kaiser window, I0(beta sqrt(1 - x^2)) / I0(beta) with x from -1 to 1.
 *
 * @param length number of samples. @param beta its shape, see `kaiserBeta`.
 *
 * Reference: J. F. Kaiser, Nonrecursive digital filter design using the I0-sinh window function, Proc. IEEE
 * Int. Symp. Circuits and Systems (1974) 20-23.
 *
 * @example
 * kaiser(3, 0) // [1, 1, 1]
 */
export function kaiser(length: number, beta: number): Float64Array {
  const window = new Float64Array(length).fill(1);
  const scale = besselI0(beta);
  for (let n = 0; n < length && length > 1; n++) {
    const x = (2 * n) / (length - 1) - 1;
    window[n] = besselI0(beta * Math.sqrt(Math.max(0, 1 - x * x))) / scale;
  }
  return window;
}

/**
 * Shape of the Kaiser window whose low-pass has a wanted rejection, by Kaiser's rule for more than 50 dB.
 *
 * @param rejectionDb above 50.
 *
 * @example
 * kaiserBeta(100) // 10.06
 */
export function kaiserBeta(rejectionDb: number): number {
  return 0.1102 * (rejectionDb - 8.7);
}

/** Modified Bessel function of the first kind, order 0, by its power series (all terms positive: no cancellation). */
function besselI0(x: number): number {
  let term = 1;
  let sum = 1;
  for (let k = 1; term > 1e-17 * sum; k++) {
    term *= (x / (2 * k)) ** 2;
    sum += term;
  }
  return sum;
}
