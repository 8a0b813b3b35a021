import { realFft } from '../../signal/fourier';
import type { WindowSums } from './noiseSpectrum';

/** A window over an impulse response: half-Hann ends, seconds from its centre. */
export interface TimeWindow {
  /** Where it begins, and where it is whole: both before the centre, as positive numbers. */
  before: number;
  wholeBefore: number;
  /** Until where it is whole, and where it ends. */
  wholeAfter: number;
  after: number;
}

/** Gain of a window at a time from its centre, s. */
export function windowGain({ before, wholeBefore, wholeAfter, after }: TimeWindow, seconds: number): number {
  if (seconds <= -before || seconds >= after) return 0;
  if (seconds < -wholeBefore) return 0.5 - 0.5 * Math.cos((Math.PI * (seconds + before)) / (before - wholeBefore));
  if (seconds > wholeAfter) return 0.5 + 0.5 * Math.cos((Math.PI * (seconds - wholeAfter)) / (after - wholeAfter));
  return 1;
}

/** Sum and squares of a window at a sample rate, Hz. */
export function windowSums({ before, wholeBefore, wholeAfter, after }: TimeWindow, rateHz: number): WindowSums {
  const [fades, whole] = [before - wholeBefore + after - wholeAfter, wholeBefore + wholeAfter];
  return { squares: (whole + 0.375 * fades) * rateHz, sumSquared: ((whole + 0.5 * fades) * rateHz) ** 2 };
}

/**
 * Cut a stretch out of an impulse response that goes round its length, by a window.
 *
 * @param impulse samples. @param rateHz their rate. @param centreS where the window's centre is put, s, any sign.
 * @returns as many samples, nothing outside the window, everything in its place.
 */
export function cut(impulse: Float64Array, rateHz: number, centreS: number, window: TimeWindow): Float64Array {
  const length = impulse.length;
  const out = new Float64Array(length);
  const first = Math.ceil((centreS - window.before) * rateHz);
  const last = Math.min(Math.floor((centreS + window.after) * rateHz), first + length - 1);
  for (let n = first; n <= last; n++) {
    const at = ((n % length) + length) % length;
    out[at] = impulse[at] * windowGain(window, n / rateHz - centreS);
  }
  return out;
}

/** Spectrum of what a window lets through, on the bins that the impulse response came from. */
export function spectrumThrough(
  impulse: Float64Array,
  rateHz: number,
  centreS: number,
  window: TimeWindow,
): Float64Array {
  return realFft(cut(impulse, rateHz, centreS, window), impulse.length);
}
