import { inverseRealFft, realFft } from './fourier';

/**
 * Hilbert transform of real samples: every component turned back by 90 degrees.
 *
 * @param samples a power of two of them, 4 or more; they count as one period of a periodic signal.
 * @returns as many samples; with the input as real part they make the analytic signal.
 * @throws BassloomError `fft-length`.
 *
 * Notes: what stands at 0 Hz and at half the sample rate has no quadrature and is left out.
 *
 * Reference: A. V. Oppenheim, R. W. Schafer, Discrete-Time Signal Processing, ch. 12 (discrete Hilbert transforms).
 *
 * @example
 * hilbert(Float64Array.of(1, 0, -1, 0)) // a cosine becomes a sine: [0, 1, 0, -1]
 */
export function hilbert(samples: Float64Array): Float64Array {
  const bins = realFft(samples, samples.length);
  for (let i = 0; i < bins.length; i += 2) {
    const ends = i === 0 || i === bins.length - 2;
    const re = bins[i];
    bins[i] = ends ? 0 : bins[i + 1];
    bins[i + 1] = ends ? 0 : -re;
  }
  return inverseRealFft(bins);
}
