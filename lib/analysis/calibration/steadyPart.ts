import { powerMeanDb } from '../../model/decibel';
import type { ToneLevels } from './toneLevels';

/** The steady part of a tone. */
export interface SteadyPart {
  /** First sample, and the one after the last. */
  from: number;
  to: number;
  /** Mean power as a level, dB re a full-scale sine. */
  levelDb: number;
  /** Levels of its single stretches. */
  levels: Float64Array;
}

/** Most that the level may change in it, dB. */
const MOST_CHANGE_DB = 1.5;
const SHORTEST_S = 0.5;
/** A part so much quieter than the loudest steady one is not the calibrator, dB. */
const QUIETER_DB = 6;
/** Nor is one so much quieter than the loudest moment, dB; a knock may be that much louder than the tone. */
const BELOW_PEAK_DB = 20;

/**
 * Longest time in which a tone keeps its level; undefined where it does so for less than half a second.
 *
 * Of steady parts 6 dB or more below the loudest steady one (a tone that leaks in while the calibrator is off) none
 * counts.
 */
export function steadyPart({ levelDb, hop, length, sampleRateHz }: ToneLevels): SteadyPart | undefined {
  const least = Math.max(2, Math.ceil((SHORTEST_S * sampleRateHz - length) / hop) + 1);
  const peak = levelDb.reduce((most, db) => Math.max(most, db), Number.NEGATIVE_INFINITY);
  const parts = steadyRuns(levelDb).filter(([from, to]) => to - from >= least);
  const level = ([from, to]: [number, number]) => powerMeanDb(levelDb.subarray(from, to));
  const loudest = parts.reduce((most, part) => Math.max(most, level(part)), peak - BELOW_PEAK_DB + QUIETER_DB);
  const [best] = parts.filter((part) => level(part) > loudest - QUIETER_DB).sort((a, b) => b[1] - b[0] - (a[1] - a[0]));
  if (!best) return undefined;
  const [from, to] = best;
  return {
    from: from * hop,
    to: (to - 1) * hop + length,
    levelDb: powerMeanDb(levelDb.subarray(from, to)),
    levels: levelDb.slice(from, to),
  };
}

/** Every run that cannot be made longer without changing by more than that, as [first, after the last]. */
function steadyRuns(levels: Float64Array): [number, number][] {
  const runs: [number, number][] = [];
  let end = 0;
  for (let start = 0; start < levels.length && end < levels.length; start++) {
    let next = start;
    let low = Number.POSITIVE_INFINITY;
    let high = Number.NEGATIVE_INFINITY;
    while (next < levels.length) {
      low = Math.min(low, levels[next]);
      high = Math.max(high, levels[next]);
      if (high - low > MOST_CHANGE_DB) break;
      next++;
    }
    if (next > end) runs.push([start, next]);
    end = Math.max(end, next);
  }
  return runs;
}
