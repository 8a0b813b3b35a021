import type { Caveat, Severity } from '../model/caveat';
import type { Curve, Interval } from '../model/curve';
import { powerOf } from '../model/decibel';
import { makeCaveat } from '../words/makeCaveat';
import { captureCaveats } from './captureCaveats';
import { mergeIntervals } from './intervals';
import { smoothPowers } from './smoothPowers';

/** Below this signal-to-noise ratio a number is not trusted. */
export const TRUSTED_SNR_DB = 10;

/** A stretch at an end of a range counts from this width on, where the range is at least an octave wide. */
const NOTABLE_OCTAVES = 1 / 6;
const WIDE_OCTAVES = 1;
/** A stretch this close to an end begins there. */
const AT_END_OCTAVES = 1 / 24;

/**
 * Say what speaks against numbers read from a curve: a bad or doubtful capture, and where it is too close to its noise.
 *
 * @param curve any curve. @param intervalsHz the ranges that a finding rests on, Hz. @param untrusted what
 * `untrustedIn` gave for the curve, where it is at hand.
 * @returns a caveat for each such capture, whatever the ranges, and one doubt about all untrusted stretches inside the
 * ranges; none where the noise is not known.
 *
 * Judged after 1/6-octave smoothing of level and noise, since single points scatter. A stretch narrower than that at
 * the very end of a range of an octave or more is passed over: what was read from the whole range does not rest on it.
 * Ranges around single numbers are narrower, and nothing is passed over there.
 *
 * @example
 * caveatsFor(makeCurve({ frequencyHz: [8, 16, 40], levelDb: [60, 80, 90], noiseDb: [58, 58, 58] }), [[5, 50]])
 */
export function caveatsFor(curve: Curve, intervalsHz: Interval[], untrusted = untrustedIn(curve)): Caveat[] {
  const ranges = mergeIntervals(intervalsHz, 'intervalsHz');
  const notable = untrusted(intervalsHz).filter((stretch) => !ranges.some((range) => isTrifle(stretch, range)));
  return [...captureCaveats([curve]), ...nearNoise(curve, notable, 'doubt')];
}

/** One caveat for all stretches of a curve that are too close to its noise; none where there is no such stretch. */
export function nearNoise(curve: Curve, rangesHz: Interval[], severity: Severity): Caveat[] {
  if (rangesHz.length === 0) return [];
  const values = { label: curve.label, snrDb: TRUSTED_SNR_DB };
  return [makeCaveat('near-noise', severity, values, { curve: curve.id, rangesHz })];
}

/** Whether a stretch is a sliver at an end of a wide range. */
function isTrifle([low, high]: Interval, [from, to]: Interval): boolean {
  if (low < from || high > to || Math.log2(to / from) < WIDE_OCTAVES) return false;
  const isAtEnd = Math.min(Math.log2(low / from), Math.log2(to / high)) <= AT_END_OCTAVES;
  return isAtEnd && Math.log2(high / low) < NOTABLE_OCTAVES;
}

/** Stretches inside some ranges where the smoothed signal-to-noise ratio is below 10 dB, Hz. */
export function untrustedStretches(curve: Curve, intervalsHz: Interval[]): Interval[] {
  return untrustedIn(curve)(intervalsHz);
}

/** Prepare `untrustedStretches` of one curve for several questions: smoothing is most of the work. */
export function untrustedIn(curve: Curve): (intervalsHz: Interval[]) => Interval[] {
  const { frequencyHz: f, levelDb, noiseDb } = curve;
  if (!noiseDb) return () => [];
  const power = smoothPowers(f, levelDb, 6);
  const noise = smoothPowers(f, noiseDb, 6);
  const least = powerOf(TRUSTED_SNR_DB) + 1;
  const poor: number[] = [];
  for (let i = 0; i < f.length; i++) if (!(power[i] >= least * noise[i])) poor.push(i);
  return (intervalsHz) =>
    mergeIntervals(intervalsHz, 'intervalsHz').flatMap((interval) => stretchesOf(f, poor, interval));
}

/** Runs of neighbouring points inside a range, as frequencies. */
function stretchesOf(f: number[], points: number[], [low, high]: Interval): Interval[] {
  const stretches: Interval[] = [];
  let before = -2;
  for (const i of points) {
    // A range that lies between two points is judged by the points around it.
    const touches = (f[i + 1] ?? f[i]) > low && (f[i - 1] ?? f[i]) < high;
    if (!touches) continue;
    const at = Math.min(Math.max(f[i], low), high);
    if (before === i - 1) stretches[stretches.length - 1][1] = at;
    else stretches.push([at, at]);
    before = i;
  }
  return stretches;
}
