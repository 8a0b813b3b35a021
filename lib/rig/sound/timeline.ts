import type { Recording } from '../../model/curve';
import { nextFastLength } from '../../signal/fourier';
import { makeRefusal } from '../../words/makeRefusal';
import { flightS } from './roomPath';
import type { SoundRigSpec } from './soundRigSpec';

/** When things happen: seconds after the player started, in the player's time, unless said otherwise. */
export interface Timeline {
  latencyS: number;
  flightS: number;
  /** The recorder's first sample, and how many follow it. */
  startS: number;
  count: number;
  /** The file's sample rate, and true time from one sample to the next. */
  sampleRateHz: number;
  stepS: number;
}

/** Above twice the band that is played, so that nothing folds. */
const LOWEST_RATE_HZ = 8000;
const DEFAULT_TAIL_S = 0.5;
/** Memory grows with it: some 300 MB at the longest. */
const LONGEST_S = 450;

/**
 * Work out what part of time a recording covers.
 *
 * @throws BassloomError `recorder-option`, `rig-too-long`.
 */
export function planTime(rig: SoundRigSpec, stimulus: Pick<Recording, 'seconds' | 'sampleRateHz'>): Timeline {
  const { latencyMs = 0, startS = 0, tailS = DEFAULT_TAIL_S, truncateAfterS, clockPpm = 0 } = rig.recorder ?? {};
  const sampleRateHz = rig.recorder?.sampleRateHz ?? stimulus.sampleRateHz;
  if (!(Number.isInteger(sampleRateHz) && sampleRateHz >= Math.min(LOWEST_RATE_HZ, stimulus.sampleRateHz))) {
    refuse('sampleRateHz', sampleRateHz);
  }
  if (!(Math.abs(clockPpm) <= 10_000)) refuse('clockPpm', clockPpm);
  if (!(latencyMs >= 0 && latencyMs <= 10_000)) refuse('latencyMs', latencyMs);
  const stepS = 1 / (sampleRateHz * (1 + clockPpm * 1e-6));
  const endS = stimulus.seconds + latencyMs / 1000 + tailS;
  const seconds = Math.min(endS - startS, truncateAfterS ?? Number.POSITIVE_INFINITY);
  if (!(seconds > 0)) refuse('startS', startS);
  const wholeS = Math.max(endS, endS - startS);
  if (!(wholeS <= LONGEST_S)) {
    throw makeRefusal('rig-too-long', { seconds: wholeS, mostS: LONGEST_S }, { field: 'stimulus' });
  }
  const count = Math.max(1, Math.floor(seconds / stepS + 1e-6));
  return { latencyS: latencyMs / 1000, flightS: flightS(rig), startS, count, sampleRateHz, stepS };
}

/** Silence before and after whatever is asked for, s: room for filters that look ahead. */
const MARGIN_S = 0.25;

/** The stretch of time that is worked out: where it begins, and the number of samples, a power of two. */
export function workSpan(
  time: Timeline,
  stimulusS: number,
  ringingS: number,
  rateHz: number,
): { originS: number; length: number } {
  const originS = Math.min(0, time.startS - time.latencyS) - MARGIN_S;
  const endS = Math.max(stimulusS, time.startS + time.count * time.stepS - time.latencyS) + MARGIN_S + ringingS;
  return { originS, length: nextFastLength(Math.ceil((endS - originS) * rateHz)) };
}

function refuse(option: 'sampleRateHz' | 'clockPpm' | 'latencyMs' | 'startS', value: number): never {
  throw makeRefusal('recorder-option', { option, value }, { field: option });
}
