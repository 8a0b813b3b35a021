import { nextFastLength, realFft } from '../../../signal/fourier';
import { lender } from '../lender';
import type { WindowSums } from '../noise/noiseSpectrum';

/** A window over an impulse response: half-Hann ends, seconds from its centre. */
export interface TimeWindow {
  /** Where it begins, and where it is whole: both before the centre, as positive numbers. */
  before: number;
  wholeBefore: number;
  /** Until where it is whole, and where it ends. */
  wholeAfter: number;
  after: number;
}

const lendStretch = lender();
const lendBins = lender();

/** Length of a transform over that of a stretch, at least. */
const TO_STRETCH = 3.5;

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
 * @returns as many samples, nothing outside the window, everything in its place; lent until the next call.
 */
function cut(impulse: Float64Array, rateHz: number, centreS: number, window: TimeWindow): Float64Array {
  const length = impulse.length;
  const out = lendStretch(length).fill(0);
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

/** Spectrum of a short stretch, as if its centre stood at 0, on bins of its own. */
export interface StretchSpectrum {
  bins: Float64Array;
  binHz: number;
}

/**
 * Spectrum of what a window lets through, on bins just close enough to be read between.
 *
 * @param impulse samples, going round. @param rateHz their rate. @param centreS where the window's centre is put, s.
 * @returns bins that are lent until the next call.
 */
export function stretchSpectrum(
  impulse: Float64Array,
  rateHz: number,
  centreS: number,
  window: TimeWindow,
): StretchSpectrum {
  const count = impulse.length;
  const length = Math.min(nextFastLength(TO_STRETCH * (window.before + window.after) * rateHz), count);
  const stretch = lendStretch(length).fill(0);
  const centre = Math.round(centreS * rateHz);
  const off = centreS - centre / rateHz;
  const half = length >> 1;
  const first = Math.max(Math.ceil(-window.before * rateHz), -half);
  const last = Math.min(Math.floor(window.after * rateHz), half - 1);
  for (let n = first; n <= last; n++) {
    const at = (((centre + n) % count) + count) % count;
    stretch[(n + length) % length] = impulse[at] * windowGain(window, n / rateHz - off);
  }
  return { bins: realFft(stretch, length, lendBins(length + 2)), binHz: rateHz / length };
}
