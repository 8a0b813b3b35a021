/** Ends and tick step of a level axis, dB. */
export interface LevelRange {
  min: number;
  max: number;
  step: number;
}

export interface LevelRangeOptions {
  /** Tallest range shown, from the top down, dB; default 60. */
  mostDb?: number;
  /** Shortest range shown, dB; default 20. */
  leastDb?: number;
  /** Room above the highest level, dB; default 2. */
  headDb?: number;
  /** Steps to choose from, dB; default 5 and 10. */
  stepsDb?: number[];
  /** No more steps than these on the axis, unless the last one is needed; default 8. */
  mostSteps?: number;
}

/**
 * Choose a level axis from the levels that count, so that noise at the bottom does not squeeze the rest.
 *
 * @param levelsDb trusted levels, dB; what is not finite is passed over.
 * @returns ends on whole steps.
 *
 * @example
 * levelRange([62, 91.3]) // { min: 60, max: 95, step: 5 }
 */
export function levelRange(levelsDb: number[], options: LevelRangeOptions = {}): LevelRange {
  const { mostDb = 60, leastDb = 20, headDb = 2, stepsDb = [5, 10], mostSteps = 8 } = options;
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (const level of levelsDb) {
    if (!Number.isFinite(level)) continue;
    if (level < low) low = level;
    if (level > high) high = level;
  }
  if (!(high >= low)) [low, high] = [0, leastDb];
  low = Math.max(low - headDb / 2, high + headDb - mostDb);
  const lacking = Math.max(0, leastDb - (high + headDb - low));
  const ends = (step: number): LevelRange => ({
    min: Math.floor((low - lacking / 2) / step) * step,
    max: Math.ceil((high + headDb + lacking / 2) / step) * step,
    step,
  });
  const fitting = stepsDb.map(ends).find(({ min, max, step }) => (max - min) / step <= mostSteps);
  return fitting ?? ends(stepsDb[stepsDb.length - 1]);
}
