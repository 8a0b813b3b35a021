import { nextFastLength, realFft } from './fourier';

/**
 * Group delay of an impulse response, -d(phase)/d(angular frequency), without unwrapping.
 *
 * @param impulse the impulse response. @param length transform length, a power of two; the next one where left out.
 * @returns delay in samples at 0, 1, 2 ... N/2 times sampleRate / N; NaN where the response has no energy.
 * @throws BassloomError `fft-length`.
 *
 * Notes: the real part of the spectrum of n x[n] over that of x[n]. Beside a deep dip it swings far and may be
 * negative: that is what the phase does there, not an early arrival.
 *
 * Reference: A. V. Oppenheim, R. W. Schafer, Discrete-Time Signal Processing, ch. 5 (group delay).
 *
 * @example
 * groupDelay(Float64Array.of(0, 0, 1, 0)) // [2, 2, 2]
 */
export function groupDelay(impulse: Float64Array, length = nextFastLength(impulse.length)): Float64Array {
  const spectrum = realFft(impulse, length);
  const ramped = realFft(
    impulse.map((x, n) => n * x),
    length,
  );
  return Float64Array.from({ length: length / 2 + 1 }, (_, k) => {
    const [re, im] = [spectrum[2 * k], spectrum[2 * k + 1]];
    return (ramped[2 * k] * re + ramped[2 * k + 1] * im) / (re * re + im * im);
  });
}
