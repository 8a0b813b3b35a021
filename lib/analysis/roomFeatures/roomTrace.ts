import type { About, Curve, Interval } from '../../model/curve';
import { levelOf } from '../../model/decibel';
import { OCTAVE_RATIO } from '../../model/octaves';
import { smoothPowers } from '../../response/smoothPowers';
import type { RunNoise } from './noiseOfRuns';

/** A smoothed response in which dips and peaks are looked for. */
export interface RoomTrace {
  about: About;
  /** Rising; no denser than the smoothing can tell apart. */
  frequencyHz: Float64Array;
  /** lg2 of the frequencies. */
  octave: Float64Array;
  /** Smoothed over 1/24 octave, dB. */
  levelDb: Float64Array;
  /** Standard deviation of the smoothed power by noise, as a part of that power. */
  spread: Float64Array;
  /** Smoothed power over noise power, dB; Infinity where no noise is known. */
  snrDb: Float64Array;
}

/** The runs of one unit in one setting and position, and their average. */
export interface RunGroup {
  traces: RoomTrace[];
  mean: RoomTrace;
}

/** Points nearer than 1/240 octave say nothing new after smoothing over 1/24. */
const THINNEST_OCTAVES = 1 / 240;

/** Smoothing at each point lets through 1/24 octave of bandwidth. */
const SMOOTHING_HZ_PER_HZ = OCTAVE_RATIO ** (1 / 48) - OCTAVE_RATIO ** (-1 / 48);

/**
 * Smooth a response over 1/24 octave and cut it to a range, with what is known of its noise.
 *
 * @param curve a response. @param rangeHz the part to keep. @param noise of its bins.
 * @returns null where fewer than 5 points lie in the range.
 */
export function roomTrace(curve: Curve, rangeHz: Interval, noise: RunNoise): RoomTrace | null {
  const { frequencyHz } = curve;
  const kept = thinned(frequencyHz, rangeHz);
  if (kept.length < 5) return null;
  const smoothed = smoothPowers(frequencyHz, curve.levelDb, 24);
  const column = () => new Float64Array(kept.length);
  const trace = { frequencyHz: column(), octave: column(), levelDb: column(), spread: column(), snrDb: column() };
  for (let k = 0; k < kept.length; k++) {
    const i = kept[k];
    const bins = Math.max(1, (frequencyHz[i] * SMOOTHING_HZ_PER_HZ) / binHz(frequencyHz, i));
    const added = noise.power[i] / smoothed[i];
    trace.frequencyHz[k] = frequencyHz[i];
    trace.octave[k] = Math.log2(frequencyHz[i]);
    trace.levelDb[k] = levelOf(smoothed[i]);
    trace.spread[k] = Math.sqrt((added * (2 + added) + noise.scatter[i]) / bins);
    trace.snrDb[k] = -levelOf(added);
  }
  return { about: curve.about, ...trace };
}

function binHz(frequencyHz: number[], i: number): number {
  const low = Math.max(0, i - 1);
  const high = Math.min(frequencyHz.length - 1, i + 1);
  return (frequencyHz[high] - frequencyHz[low]) / (high - low);
}

function thinned(frequencyHz: number[], [lowHz, highHz]: Interval): number[] {
  const kept: number[] = [];
  const step = 2 ** THINNEST_OCTAVES;
  let next = lowHz;
  for (let i = 0; i < frequencyHz.length && frequencyHz[i] <= highHz; i++) {
    if (frequencyHz[i] < next) continue;
    kept.push(i);
    next = frequencyHz[i] * step;
  }
  return kept;
}
