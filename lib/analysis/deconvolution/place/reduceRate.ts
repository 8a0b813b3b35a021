import { decimate } from '../../../signal/decimate';
import { nextFastLength } from '../../../signal/fourier';

/** New sample rate over band width, at least; nearer to 2 the low-pass gets long. */
const RATE_TO_BAND = 2.6;
/** Pairs of taps of a low-pass for a transition as wide as its sample rate. */
const PAIRS = 3.3;
/** What a sample that a low-pass gives costs beside its pairs of taps, in such pairs. */
const PER_OUTPUT = 2.4;
/** What later work costs, in such pairs: for a sample of the transform, and for a bin of the band. */
const PER_SAMPLE = 100;
const PER_BIN = 150;

/** How a sound is brought to a lower rate, and the length of the transform that follows. */
export interface RatePlan {
  /** Whole factors, one after the other; none where the rate is low enough already. */
  factors: number[];
  rateHz: number;
  length: number;
}

/**
 * Plan how a sound is brought to a low rate that holds a band.
 *
 * @param rateHz sample rate, Hz. @param bandHz upper end of the band that is kept, Hz.
 * @param seconds that the transform must hold.
 *
 * Notes: transforms have lengths of powers of two. Of all rates that hold the band, the one is taken that costs least
 * with its low-passes and its transform: seldom the lowest, since a rate that just fills a transform has fewer bins.
 *
 * @example
 * planRate(48000, 520, 24) // { factors: [6, 3], rateHz: 2666.7, length: 65536 }
 */
export function planRate(rateHz: number, bandHz: number, seconds: number): RatePlan {
  const most = Math.max(1, Math.floor(rateHz / (RATE_TO_BAND * bandHz)));
  let best: RatePlan | undefined;
  let least = Number.POSITIVE_INFINITY;
  for (let total = 1; total <= most; total++) {
    const { factors, cost } = cheapest(rateHz, total, bandHz);
    const reducedHz = rateHz / total;
    const length = nextFastLength(Math.ceil(seconds * reducedHz));
    const all = cost * seconds + PER_SAMPLE * length + (PER_BIN * bandHz * length) / reducedHz;
    if (all < least) [best, least] = [{ factors, rateHz: reducedHz, length }, all];
  }
  return best!;
}

/** The parts of a factor, in their order, that multiply least per second of sound. */
function cheapest(rateHz: number, total: number, bandHz: number): { factors: number[]; cost: number } {
  if (total === 1) return { factors: [], cost: 0 };
  let best = { factors: [total], cost: Number.POSITIVE_INFINITY };
  for (let first = 2; first <= total; first++) {
    if (total % first !== 0) continue;
    const next = rateHz / first;
    const rest = cheapest(next, total / first, bandHz);
    // every first-th tap is zero
    const pairs = ((PAIRS * rateHz) / (next - 2 * bandHz)) * (1 - 1 / first);
    const cost = next * (pairs + PER_OUTPUT) + rest.cost;
    if (cost < best.cost) best = { factors: [first, ...rest.factors], cost };
  }
  return best;
}

/**
 * Bring a sound to a lower rate by whole factors; see `planRate`.
 *
 * @param samples the sound. @param rateHz its rate, Hz. @param bandHz upper end of the band, Hz.
 * @returns samples in double precision; the first stands at the same time as before.
 */
export function reduceRate(
  samples: Float32Array | Float64Array,
  rateHz: number,
  bandHz: number,
  factors: number[],
): Float64Array {
  let now = samples;
  factors.forEach((factor, i) => {
    // of what one stage hands to the next, the first is by far the longest
    const room = i === 0 && factors.length > 1 ? roomFor(Math.ceil(now.length / factor)) : undefined;
    const reduced = decimate(now, rateHz, { bandHz, factor, room });
    [now, rateHz] = [reduced.samples, reduced.sampleRateHz];
  });
  return now instanceof Float64Array ? now : new Float64Array(now);
}

/** Most samples for which room is kept from call to call: 8 MB. */
const MOST_KEPT = 2 ** 20;
let kept = new Float64Array(0);

function roomFor(count: number): Float64Array | undefined {
  if (count > MOST_KEPT) return undefined;
  if (kept.length < count) kept = new Float64Array(count);
  return kept;
}
