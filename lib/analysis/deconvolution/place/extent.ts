import { halfHann } from '../../../signal/windows';
import { type Law, sweepHz, sweepTime } from './reference';

/** What part of the stimulus a capture holds. */
export interface Extent {
  truncatedAtHz: number | null;
  missedBelowHz: number | null;
  /** Range that can be trusted as far as the capture's ends go, Hz. */
  fromHz: number;
  toHz: number;
}

/** What rings on after the sweep has passed must have been caught for so long, s. */
const RINGING_S = 0.6;
/** Share of an octave over which a torn end is faded. */
const FADE_OCTAVES = 1 / 12;
/** A sweep has faded so much before its end that zeros may follow, in octaves. */
const END_OCTAVES = 1 / 12;

/**
 * Say what part of a sweep a capture holds.
 *
 * @param law the sweep. @param arrivalS of its file's beginning in the capture, s. @param heldS seconds of the
 * capture up to its last sample that is not zero. @param seconds all of it. Zeros behind a faded end are silence, not a
 * recording that broke off.
 */
export function extentOf(law: Law, arrivalS: number, heldS: number, seconds: number): Extent {
  const start = sweepTime(law, law.startHz) + arrivalS;
  const end = sweepTime(law, law.endHz) + arrivalS;
  const missed = start < 0 ? sweepHz(law, -arrivalS) : null;
  const reached = end > heldS ? sweepHz(law, heldS - arrivalS) : null;
  const isFaded = end <= seconds && reached !== null && reached > law.endHz * 2 ** -END_OCTAVES;
  const truncated = isFaded ? null : reached;
  return {
    truncatedAtHz: truncated,
    missedBelowHz: missed,
    fromHz: missed ? missed * 2 ** (6 * FADE_OCTAVES) : law.startHz,
    toHz: truncated ? truncated * Math.max(Math.exp(-RINGING_S / law.rateSeconds), 0.35) : law.endHz,
  };
}

/**
 * Fade the torn ends of a capture, so that the step there does not spread over the spectrum.
 *
 * @returns the same samples where nothing is torn.
 */
export function fadeTorn(samples: Float64Array, rateHz: number, extent: Extent, law: Law): Float64Array {
  if (extent.truncatedAtHz === null && extent.missedBelowHz === null) return samples;
  const out = samples.slice();
  const fade = halfHann(Math.min(samples.length >> 1, Math.round(law.rateSeconds * Math.LN2 * FADE_OCTAVES * rateHz)));
  for (let n = 0; n < fade.length; n++) {
    if (extent.missedBelowHz !== null) out[n] *= fade[n];
    if (extent.truncatedAtHz !== null) out[out.length - 1 - n] *= fade[n];
  }
  return out;
}

/** Samples up to the last that is not exactly zero: a recording that broke off may have been filled up. */
export function heldSamples(samples: ArrayLike<number>): number {
  let count = samples.length;
  while (count > 0 && samples[count - 1] === 0) count--;
  return count;
}
