import { fitSweepLaw } from './sweepLaw';
import type { SweepPlan } from './sweepPlan';
import { zeroCrossings } from './zeroCrossings';

/** Peaks of a sweep's half cycles may differ by that much between its fades; more is a shaped sweep. */
const MOST_TILT = 1.26;
/** Below this share of the peak a sample counts as silence: the last bit of 16-bit samples at -30 dBFS. */
const SILENCE = 1e-3;
/** A crossing may lie that far from the law, in half cycles: root mean square, and worst. */
const MOST_RMS = 0.03;
const MOST_ERROR = 0.3;

/**
 * Find out which exponential sweep some samples hold.
 *
 * @param samples the stimulus as it was played, full scale = 1, with any silence round it; one channel.
 * @param sampleRateHz their sample rate, Hz.
 * @returns the sweep's plan: start and end (Hz), rate L (s), amplitude, lead-in and length (samples); undefined where
 * the samples hold anything else (noise, a linear or falling sweep, programme, a sweep with noise on it).
 *
 * Notes: the zero crossings of an exponential sweep follow k = A exp(t / L) + B whatever its starting phase, its fades
 * and its sample rate; L is sought for the least squares of that law over the crossings. Start and end are the
 * frequencies that the law has at the first and the last audible sample, so a long fade moves them inwards by a little.
 * `fadeInSamples` and `fadeOutSamples` are where the peaks reach their level. It need not be synchronised.
 *
 * Reference: A. Farina, AES 108th Convention (2000), 5093 (the law of the exponential sweep).
 *
 * @example
 * recogniseSweep(decodeWav(stimulus).channels[0], 48000)?.startHz // 5.01
 */
export function recogniseSweep(samples: ArrayLike<number>, sampleRateHz: number): SweepPlan | undefined {
  if (!(sampleRateHz > 0) || samples.length < 16) return undefined;
  const extent = audibleExtent(samples);
  if (!extent) return undefined;
  const { first, last, peak } = extent;
  const crossings = zeroCrossings(samples, first, last, peak * 0.05);
  const law = fitSweepLaw(crossings.times.map((n) => n / sampleRateHz));
  if (!law || law.rms > MOST_RMS || law.worst > MOST_ERROR || !isLevel(crossings.peaks, peak)) return undefined;
  const hzAt = (n: number) => law.hzAt(n / sampleRateHz);
  const endHz = Math.min(hzAt(last), sampleRateHz / 2);
  const startHz = hzAt(first);
  const sweepSeconds = law.rateSeconds * Math.log(endHz / startHz);
  if (!(startHz > 0 && endHz > 1.5 * startHz)) return undefined;
  const sweepSamples = Math.floor(sweepSeconds * sampleRateHz) + 1;
  return {
    startHz,
    endHz,
    sampleRateHz,
    amplitude: peak,
    rateSeconds: law.rateSeconds,
    sweepSeconds,
    leadInSamples: first,
    sweepSamples,
    tailSamples: Math.max(0, samples.length - first - sweepSamples),
    fadeInSamples: fadeLength(samples, first, 1, peak, last - first),
    fadeOutSamples: fadeLength(samples, last, -1, peak, last - first),
    totalSamples: samples.length,
  };
}

function audibleExtent(samples: ArrayLike<number>): { first: number; last: number; peak: number } | undefined {
  let peak = 0;
  for (let n = 0; n < samples.length; n++) peak = Math.max(peak, Math.abs(samples[n]));
  if (!(peak > 0 && Number.isFinite(peak))) return undefined;
  const least = peak * SILENCE;
  let first = 0;
  while (Math.abs(samples[first]) < least) first++;
  let last = samples.length - 1;
  while (Math.abs(samples[last]) < least) last--;
  return { first, last, peak };
}

/** Whether the half cycles between the fades are of one height. */
function isLevel(peaks: number[], peak: number): boolean {
  const middle = peaks.slice(Math.ceil(peaks.length * 0.1), Math.floor(peaks.length * 0.9)).sort((a, b) => a - b);
  return middle.length > 4 && middle[Math.floor(middle.length * 0.1)] * MOST_TILT > peak;
}

/** Samples from an end until the level is reached. */
function fadeLength(samples: ArrayLike<number>, from: number, step: 1 | -1, peak: number, most: number): number {
  let n = 0;
  while (n < most && Math.abs(samples[from + step * n]) < 0.98 * peak) n++;
  return n;
}
