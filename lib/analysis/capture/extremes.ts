import type { Samples } from './standingAt';

/** Extremes of some samples. */
export interface Extremes {
  lowest: number;
  highest: number;
  /** Smallest step from one sample to the next that is not none. */
  smallest: number;
  /** Lowest and highest of every `EXTREMES_BLOCK` samples. */
  lows: Float64Array;
  highs: Float64Array;
}

/** Samples of a block: so few that a look at one costs little, so many that there are few of them. */
export const EXTREMES_BLOCK = 1024;

/**
 * Find the extremes of some samples, as a whole and in blocks.
 *
 * @param finest no step can be smaller than that, so none is looked for any more once it was seen; 0 where not known.
 */
export function extremesOf(samples: Samples, finest = 0): Extremes {
  const count = Math.ceil(samples.length / EXTREMES_BLOCK);
  const lows = new Float64Array(count);
  const highs = new Float64Array(count);
  let lowest = Number.POSITIVE_INFINITY;
  let highest = Number.NEGATIVE_INFINITY;
  let smallest = Number.POSITIVE_INFINITY;
  for (let block = 0; block < count; block++) {
    const from = block * EXTREMES_BLOCK;
    const to = Math.min(from + EXTREMES_BLOCK, samples.length);
    if (smallest > finest) smallest = Math.min(smallest, smallestStep(samples, Math.max(1, from), to));
    let low = samples[from];
    let high = low;
    for (let n = from + 1; n < to; n++) {
      const x = samples[n];
      if (x > high) high = x;
      else if (x < low) low = x;
    }
    lows[block] = low;
    highs[block] = high;
    if (low < lowest) lowest = low;
    if (high > highest) highest = high;
  }
  return { lowest, highest, smallest, lows, highs };
}

function smallestStep(samples: Samples, from: number, to: number): number {
  let smallest = Number.POSITIVE_INFINITY;
  let before = samples[from - 1];
  for (let n = from; n < to; n++) {
    const x = samples[n];
    const change = x > before ? x - before : before - x;
    if (change < smallest && change > 0) smallest = change;
    before = x;
  }
  return smallest;
}
