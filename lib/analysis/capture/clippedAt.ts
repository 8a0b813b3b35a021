import { type Samples, type Standing, standingAt } from './standingAt';

/** Steps of quantisation below the extreme that are compared with it; a crest leaves at least as many samples there. */
const COMPARED_STEPS = 6;
/** A rail has more than so many times the samples of those steps. */
const PILE = 2;
/** A signal with fewer steps from bottom to top is not judged. */
export const FEWEST_STEPS = 64;
/** Deepest toggling of the rail by dither, in steps: triangular dither spreads a value over three. */
const DEEPEST_TOGGLE = 2;
/** Resolution of single precision: no step is finer than this share of a value. */
export const SINGLE = 2 ** -23;

/**
 * Samples that stand at one rail: see `findClipping`.
 *
 * @param samples one channel. @param rail its extreme value in one polarity. @param other that in the other.
 * @param step smallest step between neighbouring samples, of the scale of `samples`.
 * @returns null where the extreme is no rail.
 */
export function clippedAt(samples: Samples, rail: number, other: number, step: number): Standing | null {
  const up = rail > other;
  const size = Math.abs(rail);
  const q = Math.max(step, size * SINGLE);
  if (!(up ? rail > 0 : rail < 0) || !(Math.abs(rail - other) >= FEWEST_STEPS * q)) return null;
  const counts = countNear(samples, rail, q);
  const depth = railDepth(counts);
  if (depth === null) return null;
  const least = depth === 0 ? rail : rail - (up ? 1 : -1) * (depth + 0.25) * q;
  const seen = standingAt(samples, least, up);
  const differing = seen.most - seen.fewest > (4 + 2 * depth) * q + 1e-6 * size;
  const fewest = size >= 1 - 2 ** -15 ? 3 : 5;
  if (!(seen.longest >= 3 || (seen.samples >= fewest && differing))) return null;
  return seen;
}

/** How many samples lie so many steps below the rail: [at it, within a step of one below, ...]. */
function countNear(samples: Samples, rail: number, q: number): Float64Array {
  const counts = new Float64Array(COMPARED_STEPS * (DEEPEST_TOGGLE + 1) + DEEPEST_TOGGLE + 1);
  const up = rail > 0;
  const reach = (counts.length - 0.5) * q;
  const from = rail - reach;
  const to = rail + reach;
  let at = 0;
  for (let n = 0; n < samples.length; n++) {
    const x = samples[n];
    if (x === rail) at++;
    else if (up ? x > from : x < to) counts[Math.min(Math.ceil(Math.abs(rail - x) / q - 0.25), counts.length - 1)]++;
  }
  counts[0] += at;
  return counts;
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
