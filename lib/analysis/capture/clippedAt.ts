export type Samples = Float32Array | Float64Array;

/** Steps of quantisation below the extreme that are compared with it; crests leave three times as many there. */
const COMPARED_STEPS = 16;
/** A signal with fewer steps from bottom to top is not judged. */
export const FEWEST_STEPS = 64;
/** Deepest toggling of the rail by dither, in steps: triangular dither spreads a value over three. */
const DEEPEST_TOGGLE = 2;
/** Resolution of single precision: no step is finer than this share of a value. */
const SINGLE = 2 ** -23;

/**
 * Samples that stand at one rail: see `findClipping`.
 *
 * @param samples one channel. @param rail its extreme value in one polarity. @param other that in the other.
 * @param step smallest step between neighbouring samples, of the scale of `samples`.
 * @returns null where the extreme is no rail.
 */
export function clippedAt(
  samples: Samples,
  rail: number,
  other: number,
  step: number,
): { samples: number; atIndex: number; rail: number } | null {
  const up = rail > other;
  const size = Math.abs(rail);
  const q = Math.max(step, size * SINGLE);
  if (!(up ? rail > 0 : rail < 0) || !(Math.abs(rail - other) >= FEWEST_STEPS * q)) return null;
  const counts = countNear(samples, rail, q);
  const depth = railDepth(counts);
  if (depth === null) return null;
  const least = depth === 0 ? rail : rail - (up ? 1 : -1) * (depth + 0.25) * q;
  const seen = lookAround(samples, least, up);
  const differing = seen.most - seen.fewest > (4 + 2 * depth) * q + 1e-6 * size;
  const fewest = size >= 1 - 2 ** -15 ? 3 : 5;
  if (!(seen.longest >= 3 || (seen.samples >= fewest && differing))) return null;
  return { samples: seen.samples, atIndex: seen.atIndex, rail };
}

/** How many samples lie so many steps below the rail: [at it, within a step of one below, ...]. */
function countNear(samples: Samples, rail: number, q: number): Float64Array {
  const counts = new Float64Array(COMPARED_STEPS * (DEEPEST_TOGGLE + 1) + DEEPEST_TOGGLE + 1);
  const up = rail > 0;
  const reach = (counts.length - 0.5) * q;
  const from = rail - reach;
  const to = rail + reach;
  for (let n = 0; n < samples.length; n++) {
    const x = samples[n];
    if (up ? x > from : x < to) counts[Math.min(Math.ceil(Math.abs(rail - x) / q - 0.25), counts.length - 1)]++;
  }
  return counts;
}

/** Steps below the extreme that still belong to the rail; null where too few samples stand there to be one. */
function railDepth(counts: Float64Array): number | null {
  let at = 0;
  for (let depth = 0; depth <= DEEPEST_TOGGLE; depth++) {
    at += counts[depth];
    const near = sum(counts, depth + 1, depth + 1 + COMPARED_STEPS * (depth + 1));
    const isRail = at >= 3 && at - near > 1.5 * Math.sqrt(at + near);
    if (isRail && !(depth < DEEPEST_TOGGLE && toggles(counts, depth + 1))) return depth;
  }
  return null;
}

/** Whether a step stands out of those below it as a rail does: far more than twice, as a crest may. */
function toggles(counts: Float64Array, depth: number): boolean {
  const below = sum(counts, depth + 1, depth + 1 + COMPARED_STEPS);
  return counts[depth] - below > 1.5 * Math.sqrt(counts[depth] + below) && counts[depth] >= 3;
}

function sum(counts: Float64Array, from: number, to: number): number {
  let total = 0;
  for (let i = from; i < to; i++) total += counts[i];
  return total;
}

/** Counts what stands at the rail, its longest run, and how much the two neighbours of the runs, summed, differ. */
function lookAround(samples: Samples, least: number, up: boolean) {
  const seen = {
    samples: 0,
    atIndex: -1,
    longest: 0,
    most: Number.NEGATIVE_INFINITY,
    fewest: Number.POSITIVE_INFINITY,
  };
  for (let n = 0; n < samples.length; n++) {
    if (up ? samples[n] < least : samples[n] > least) continue;
    const start = n;
    while (n + 1 < samples.length && (up ? samples[n + 1] >= least : samples[n + 1] <= least)) n++;
    const length = n + 1 - start;
    seen.samples += length;
    if (seen.atIndex < 0) seen.atIndex = start;
    if (length > seen.longest) seen.longest = length;
    if (start === 0 || n === samples.length - 1) continue;
    const around = samples[start - 1] + samples[n + 1];
    if (around > seen.most) seen.most = around;
    if (around < seen.fewest) seen.fewest = around;
  }
  return seen;
}
