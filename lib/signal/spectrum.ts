import { makeRefusal } from '../words/makeRefusal';

/**
 * Product of two spectra, bin by bin (convolution of their signals, round the transform's length).
 *
 * @param a @param b complex bins of equal number, real and imaginary parts in turn, as `realFft` gives them.
 * @throws BassloomError `unequal-spectra`.
 *
 * @example
 * multiplySpectra(Float64Array.of(0, 1), Float64Array.of(0, 1)) // [-1, 0]
 */
export function multiplySpectra(a: Float64Array, b: Float64Array): Float64Array {
  checkEqual(a, b);
  const product = new Float64Array(a.length);
  for (let i = 0; i < a.length; i += 2) {
    product[i] = a[i] * b[i] - a[i + 1] * b[i + 1];
    product[i + 1] = a[i] * b[i + 1] + a[i + 1] * b[i];
  }
  return product;
}

/**
 * Squared magnitude of every bin.
 *
 * @example
 * spectrumPowers(Float64Array.of(3, 4, 0, 2)) // [25, 4]
 */
export function spectrumPowers(bins: Float64Array): Float64Array {
  const powers = new Float64Array(bins.length / 2);
  for (let k = 0; k < powers.length; k++) powers[k] = bins[2 * k] ** 2 + bins[2 * k + 1] ** 2;
  return powers;
}

/**
 * Frequencies of the bins of `realFft`, Hz: k * sampleRateHz / N for k = 0 .. N/2.
 *
 * @param bins number of complex bins, N/2 + 1.
 *
 * @example
 * binFrequencies(3, 8) // [0, 2, 4]
 */
export function binFrequencies(bins: number, sampleRateHz: number): Float64Array {
  return Float64Array.from({ length: bins }, (_, k) => (k * sampleRateHz) / (2 * (bins - 1)));
}

function checkEqual(a: Float64Array, b: Float64Array): void {
  if (a.length === b.length) return;
  throw makeRefusal('unequal-spectra', { a: a.length / 2, b: b.length / 2 });
}
