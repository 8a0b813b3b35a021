import { kaiser, kaiserBeta } from './windows';

/** A linear-phase low-pass wanted. */
export interface LowPassSpec {
  sampleRateHz: number;
  /** Upper end of the pass band and lower end of the stop band, Hz. */
  passHz: number;
  stopHz: number;
  /** Rejection from `stopHz` up, dB, above 50; the pass band ripples by as little. */
  rejectionDb: number;
}

/**
 * Taps of a linear-phase low-pass: a sinc cut half-way between pass and stop, under a Kaiser window, of gain 1 at 0 Hz.
 *
 * @returns an odd number of symmetric taps; the delay is (number - 1) / 2 samples.
 *
 * Notes: the number follows Kaiser's rule (rejection - 7.95) / (2.285 * width in radians a sample) and a pair more, which
 * falls short of the rejection by up to 1.2 dB just above `stopHz`.
 *
 * Reference: J. F. Kaiser, Proc. IEEE Int. Symp. Circuits and Systems (1974) 20-23.
 *
 * @example
 * lowPassTaps({ sampleRateHz: 48000, passHz: 500, stopHz: 2500, rejectionDb: 100 }).length // 157
 */
export function lowPassTaps({ sampleRateHz, passHz, stopHz, rejectionDb }: LowPassSpec): Float64Array {
  const width = (2 * Math.PI * (stopHz - passHz)) / sampleRateHz;
  const half = Math.ceil((rejectionDb - 7.95) / (2.285 * width) / 2) + 1;
  const taps = kaiser(2 * half + 1, kaiserBeta(rejectionDb));
  const cut = (passHz + stopHz) / sampleRateHz; // in units of half the sample rate
  let sum = 0;
  for (let n = 0; n < taps.length; n++) {
    const x = Math.PI * cut * (n - half);
    taps[n] *= x === 0 ? 1 : Math.sin(x) / x;
    sum += taps[n];
  }
  return taps.map((tap) => tap / sum);
}
