import { makeRefusal } from '../words/makeRefusal';

/** What a sweep is to be. */
export interface SweepSpec {
  startHz: number;
  endHz: number;
  /** Wanted duration of the sweep alone; the true one follows from the rounding, see `planSweep`. */
  seconds: number;
  sampleRateHz: number;
  /** Level of a full-scale sine is 0 dBFS (AES17); -15 where left out. */
  levelDbfs?: number;
}

/** A sweep worked out to the sample. */
export interface SweepPlan {
  startHz: number;
  endHz: number;
  sampleRateHz: number;
  /** Greatest sample value, full scale = 1. */
  amplitude: number;
  /** L: the time in which the frequency grows by the factor e. */
  rateSeconds: number;
  /** L ln(endHz / startHz), the duration of the sweep itself. */
  sweepSeconds: number;
  leadInSamples: number;
  sweepSamples: number;
  tailSamples: number;
  fadeInSamples: number;
  fadeOutSamples: number;
  totalSamples: number;
}

/**
 * Room for what a playback chain adds before it clips: 12 dB of bass boost (shelf, equaliser, loudness), and 3 dB for what
 * resampling and filters add to the peak. The noise of a room is far above what 24 bits lose by it.
 */
export const DEFAULT_LEVEL_DBFS = -15;
const LEAD_IN_S = 1;
/** Longer than a room rings at its lowest modes. */
const TAIL_S = 3;
/** Longest sound that is made, in samples: 46 minutes at 48 kHz, 1 GB. */
const MOST_SAMPLES = 2 ** 27;

/**
 * Work out a synchronised exponential sweep, x(t) = a sin(2 pi f1 L (exp(t / L) - 1)),
 * L = round(f1 T / ln(f2 / f1)) / f1.
 *
 * @param spec start f1 and end f2 (Hz), duration T (s), sample rate (Hz), level (dBFS).
 * @throws BassloomError `sweep-range`, `sweep-rate`, `sweep-time`, `sweep-level`.
 *
 * Notes: f1 L is a whole number, so the n-th harmonic of the sweep is the sweep itself, earlier by L ln n, in phase.
 * Both ends of the range are kept, so the rounding changes the duration, by up to ln(f2 / f1) / (2 f1) seconds.
 * A second of silence goes before it and three after it. It fades in over a period of f1 and out over four of
 * f2, but over no less than a twenty-fourth of an octave and 10 ms, and no more than a tenth of the sweep.
 *
 * Reference: A. Novak, P. Lotton, L. Simon, Synchronized swept-sine, J. Audio Eng. Soc. 63 (2015) 786-798 (from memory;
 * written there without the -1, which is the same for whole f1 L); A. Farina, AES 108th Convention (2000), 5093.
 *
 * @example
 * planSweep({ startHz: 5, endHz: 400, seconds: 20, sampleRateHz: 48000 }).rateSeconds // 4.6
 */
export function planSweep(spec: SweepSpec): SweepPlan {
  const { startHz, endHz, seconds, sampleRateHz, levelDbfs = DEFAULT_LEVEL_DBFS } = spec;
  check(spec, levelDbfs);
  const octavesE = Math.log(endHz / startHz);
  const rateSeconds = Math.round((startHz * seconds) / octavesE) / startHz;
  const sweepSeconds = rateSeconds * octavesE;
  const samplesOf = (s: number) => Math.round(s * sampleRateHz);
  const fade = (s: number) => samplesOf(Math.min(sweepSeconds / 10, Math.max(s, 0.01, (rateSeconds * Math.LN2) / 24)));
  const sweepSamples = Math.floor(sweepSeconds * sampleRateHz) + 1;
  const plan: SweepPlan = {
    startHz,
    endHz,
    sampleRateHz,
    amplitude: 10 ** (levelDbfs / 20),
    rateSeconds,
    sweepSeconds,
    leadInSamples: samplesOf(LEAD_IN_S),
    sweepSamples,
    tailSamples: samplesOf(TAIL_S),
    fadeInSamples: fade(1 / startHz),
    fadeOutSamples: fade(4 / endHz),
    totalSamples: samplesOf(LEAD_IN_S) + sweepSamples + samplesOf(TAIL_S),
  };
  if (rateSeconds === 0 || plan.totalSamples > MOST_SAMPLES) refuseTime(spec, octavesE);
  return plan;
}

function check({ startHz, endHz, seconds, sampleRateHz }: SweepSpec, levelDbfs: number): void {
  if (!(sampleRateHz >= 1 && Number.isInteger(sampleRateHz))) {
    throw makeRefusal('sweep-rate', { rateHz: sampleRateHz }, { field: 'sampleRateHz' });
  }
  if (!(startHz > 0 && endHz > startHz && endHz < sampleRateHz / 2)) {
    const field = startHz > 0 ? 'endHz' : 'startHz';
    throw makeRefusal('sweep-range', { startHz, endHz, rateHz: sampleRateHz }, { field });
  }
  if (!(seconds > 0 && Number.isFinite(seconds))) {
    throw makeRefusal('sweep-time', { seconds, leastS: null, mostS: null }, { field: 'seconds' });
  }
  if (!(levelDbfs <= 0 && levelDbfs > -200)) {
    throw makeRefusal('sweep-level', { levelDbfs }, { field: 'levelDbfs' });
  }
}

function refuseTime({ startHz, seconds, sampleRateHz }: SweepSpec, octavesE: number): never {
  const leastS = (0.5 * octavesE) / startHz;
  const mostS = Math.floor(MOST_SAMPLES / sampleRateHz - LEAD_IN_S - TAIL_S);
  throw makeRefusal('sweep-time', { seconds, leastS, mostS }, { field: 'seconds' });
}
