import { EXTREMES_BLOCK, type Extremes } from './extremes';
import { type Samples, type Standing, standingAt } from './standingAt';

/** Steps of quantisation below the extreme that are compared with it; a crest leaves at least as many samples there. */
const COMPARED_STEPS = 6;
/** A rail has more than so many times the samples of those steps. */
const PILE = 2;
/** Deepest toggling of the rail by dither, in steps: triangular dither spreads a value over three. */
const DEEPEST_TOGGLE = 2;
/** Steps that are looked at. */
const STEPS = COMPARED_STEPS * (DEEPEST_TOGGLE + 1) + DEEPEST_TOGGLE + 1;

/**
 * Samples that stand at one rail: see `findClipping`.
 *
 * @param samples one channel. @param rail its extreme value in one polarity, @param q the step of quantisation there.
 * @param counts how many samples lie near it, of `countNear`.
 * @returns null where the extreme is no rail.
 */
export function clippedAt(samples: Samples, rail: number, q: number, counts: Float64Array): Standing | null {
  const depth = railDepth(counts);
  if (depth === null) return null;
  const seen = standingAt(samples, depth === 0 ? rail : rail - Math.sign(rail) * (depth + 0.25) * q, rail > 0);
  const size = Math.abs(rail);
  const differing = seen.most - seen.fewest > (4 + 2 * depth) * q + 1e-6 * size;
  const fewest = size >= 1 - 2 ** -15 ? 3 : 5;
  return seen.longest >= 3 || (seen.samples >= fewest && differing) ? seen : null;
}

/**
 * How many samples lie so many steps from an extreme: [at it, within a step, ...], for the highest and for the lowest.
 *
 * @param extremes blocks that do not come near them are not looked at.
 * @param up step of quantisation at the highest. @param down that at the lowest.
 */
export function countNear(samples: Samples, { highest, lowest, highs, lows }: Extremes, up: number, down: number) {
  const above = new Float64Array(STEPS + 1);
  const below = new Float64Array(STEPS + 1);
  const from = highest - STEPS * up;
  const to = lowest + STEPS * down;
  let atHighest = 0;
  let atLowest = 0;
  for (let block = 0; block < highs.length; block++) {
    if (highs[block] <= from && lows[block] >= to) continue;
    const end = Math.min((block + 1) * EXTREMES_BLOCK, samples.length);
    for (let n = block * EXTREMES_BLOCK; n < end; n++) {
      const x = samples[n];
      if (x > from) {
        if (x === highest) atHighest++;
        else above[Math.ceil((highest - x) / up - 0.25)]++;
      } else if (x < to) {
        if (x === lowest) atLowest++;
        else below[Math.ceil((x - lowest) / down - 0.25)]++;
      }
    }
  }
  above[0] += atHighest;
  below[0] += atLowest;
  return { above, below };
}

/** Steps below the extreme that still belong to the rail; null where too few samples stand there to be one. */
function railDepth(counts: Float64Array): number | null {
  let at = 0;
  for (let depth = 0; depth <= DEEPEST_TOGGLE; depth++) {
    at += counts[depth];
    const near = sum(counts, depth + 1, depth + 1 + COMPARED_STEPS * (depth + 1));
    if (isPile(at, near) && !(depth < DEEPEST_TOGGLE && toggles(counts, depth + 1))) return depth;
  }
  return null;
}

/** Whether a step stands out of those below it as a rail does, too. */
function toggles(counts: Float64Array, depth: number): boolean {
  return isPile(counts[depth], sum(counts, depth + 1, depth + 1 + COMPARED_STEPS));
}

/** Whether so many samples are more than a crest leaves, beyond what chance adds. */
function isPile(at: number, near: number): boolean {
  return at >= 3 && at - PILE * near > 1.5 * Math.sqrt(at + PILE ** 2 * near);
}

function sum(counts: Float64Array, from: number, to: number): number {
  let total = 0;
  for (let i = from; i < to; i++) total += counts[i];
  return total;
}
