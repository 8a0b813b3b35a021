import { decimate } from '../../signal/decimate';

/** New sample rate over band width, at least; nearer to 2 the low-pass gets long. */
const RATE_TO_BAND = 2.6;
/** A stage may go so near to twice the band only at the last step. */
const STAGE_TO_BAND = 2.6;

/**
 * Whole factors by which a sound is brought to the lowest rate that holds a band, one after the other.
 *
 * @param rateHz sample rate, Hz. @param bandHz upper end of the band that is kept, Hz.
 * @returns one factor or two; none where the rate is low enough already.
 *
 * Notes: of the factors near the greatest possible, and the ways to part them in two, the one that multiplies least.
 * It depends on rate and band only, so that two recordings of one rate come to the same grid.
 *
 * @example
 * rateFactors(48000, 2000) // [3, 3]
 */
export function rateFactors(rateHz: number, bandHz: number): number[] {
  const most = Math.floor(rateHz / (RATE_TO_BAND * bandHz));
  if (most < 2) return [];
  let best: number[] = [most];
  let least = Number.POSITIVE_INFINITY;
  for (let total = Math.ceil(most * 0.85); total <= most; total++) {
    for (let first = 1; first <= total; first++) {
      if (total % first !== 0) continue;
      const factors = first === 1 ? [total] : first === total ? [] : [first, total / first];
      const cost = costOf(factors, rateHz, bandHz);
      if (factors.length > 0 && cost < least) [best, least] = [factors, cost];
    }
  }
  return best;
}

/** Multiplications per second of sound; the transforms after it count by the rate that is left. */
function costOf(factors: number[], rateHz: number, bandHz: number): number {
  let cost = 0;
  for (const factor of factors) {
    const next = rateHz / factor;
    if (next < STAGE_TO_BAND * bandHz) return Number.POSITIVE_INFINITY;
    cost += (next * 3.3 * rateHz) / (next - 2 * bandHz);
    rateHz = next;
  }
  return cost + 40 * rateHz;
}

/**
 * Bring a sound to the lowest rate that holds a band; see `rateFactors`.
 *
 * @param samples the sound. @param rateHz its rate, Hz. @param bandHz upper end of the band, Hz.
 * @returns samples in double precision and their rate; the first stands at the same time as before.
 */
export function reduceRate(
  samples: Float32Array | Float64Array,
  rateHz: number,
  bandHz: number,
): { samples: Float64Array; rateHz: number } {
  let now = inDouble(samples);
  for (const factor of rateFactors(rateHz, bandHz)) {
    const reduced = decimate(now, rateHz, { bandHz, factor });
    [now, rateHz] = [reduced.samples, reduced.sampleRateHz];
  }
  return { samples: now.buffer === scratch.buffer ? now.slice() : now, rateHz };
}

/** Longest sound whose copy in double precision is kept from call to call: 16 MB. */
const LONGEST_KEPT = 2 ** 21;
let scratch = new Float64Array(0);

/** The same samples in double precision; those of a capture in one place, since new memory for each costs more than the copy. */
function inDouble(samples: Float32Array | Float64Array): Float64Array {
  if (samples instanceof Float64Array) return samples;
  if (samples.length > LONGEST_KEPT) return new Float64Array(samples);
  if (scratch.length < samples.length) scratch = new Float64Array(samples.length);
  scratch.set(samples);
  return scratch.subarray(0, samples.length);
}
