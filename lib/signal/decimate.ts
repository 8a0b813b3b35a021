import { makeRefusal } from '../words/makeRefusal';
import { lowPassTaps } from './lowPassTaps';

/** What folds back into the band comes down by 100 dB; Kaiser's rule falls short by up to 1.2 dB. */
const REJECTION_DB = 102;
/** New sample rate over band width: below it the low-pass gets long, above it later transforms do. */
const RATE_TO_BAND = 6;

type Samples = Float32Array | Float64Array;

/**
 * Lower the sample rate of a sound by a whole factor, keeping a bass band as it is.
 *
 * @param samples the sound. @param sampleRateHz its sample rate, Hz.
 * @param options.bandHz upper end of the band that is kept, Hz; 500 where left out.
 * @param options.factor how many samples become one; where left out, the largest that leaves six times the band, which
 * is 16 for 48 kHz and 500 Hz. 1 leaves the samples as they are.
 * @param options.room where the samples go, if it holds so many; else they get memory of their own.
 * @returns samples at `sampleRateHz` (a fraction of the old), one for every `factor` of the old; the first of both
 * stand at the same time, so nothing is delayed.
 * @throws BassloomError `decimate-rate`, `decimate-band`, `decimate-factor`.
 *
 * Notes: a linear-phase low-pass whose stop band begins where folding would reach the band: within 0.001 dB up to
 * `bandHz`, and everything that folds into the band is 100 dB down. Between `bandHz` and half the new rate it falls and
 * folds: do not use it. The sound counts as silent before its first and after its last sample.
 *
 * Reference: R. E. Crochiere, L. R. Rabiner, Multirate Digital Signal Processing (1983), ch. 4 (don't-care bands).
 *
 * @example
 * decimate(new Float64Array(48000), 48000).sampleRateHz // 3000
 */
export function decimate(
  samples: Samples,
  sampleRateHz: number,
  options: { bandHz?: number; factor?: number; room?: Float64Array } = {},
): { samples: Float64Array; sampleRateHz: number; factor: number } {
  const bandHz = options.bandHz ?? 500;
  check(sampleRateHz, bandHz);
  const factor = options.factor ?? Math.max(1, Math.floor(sampleRateHz / (RATE_TO_BAND * bandHz)));
  const newRateHz = sampleRateHz / factor;
  if (!(Number.isInteger(factor) && factor >= 1 && (factor === 1 || newRateHz > 2 * bandHz))) {
    throw makeRefusal('decimate-factor', { factor, rateHz: sampleRateHz, bandHz }, { field: 'factor' });
  }
  if (factor === 1) return { samples: Float64Array.from(samples), sampleRateHz, factor };
  const taps = foldedTaps(sampleRateHz, bandHz, factor);
  return { samples: filterEvery(samples, taps, factor, options.room), sampleRateHz: newRateHz, factor };
}

/** Symmetric taps: the one in the middle, and each pair that is not zero with its distance from the middle. */
interface Folded {
  middle: number;
  reach: Int32Array;
  gain: Float64Array;
}

/** Filters that are kept: a session needs a few. */
const KEPT = 24;
const known = new Map<string, Folded>();

function foldedTaps(sampleRateHz: number, bandHz: number, factor: number): Folded {
  const key = `${sampleRateHz} ${bandHz} ${factor}`;
  const old = known.get(key);
  if (old) return old;
  const stopHz = sampleRateHz / factor - bandHz;
  const taps = lowPassTaps({ sampleRateHz, passHz: bandHz, stopHz, rejectionDb: REJECTION_DB });
  const half = (taps.length - 1) / 2;
  // cut at half of the new rate, every factor-th tap of the sinc is zero
  const reach = Int32Array.from({ length: half }, (_, i) => i + 1).filter((i) => Math.abs(taps[half + i]) > 1e-15);
  const folded = { middle: taps[half], reach, gain: Float64Array.from(reach, (i) => taps[half + i]) };
  known.set(key, folded);
  if (known.size > KEPT) known.delete(known.keys().next().value!);
  return folded;
}

/** Samples that are worked out from one stretch in the cache. */
const BLOCK = 512;

/**
 * Symmetric filter without delay, worked out at every `factor`-th sample only.
 *
 * Notes: stretch by stretch in double precision, silence round the ends; four sums at once, since one alone would wait
 * for each of its additions.
 */
function filterEvery(
  samples: Samples,
  { middle, reach, gain }: Folded,
  factor: number,
  room?: Float64Array,
): Float64Array {
  const half = reach[reach.length - 1];
  const length = Math.ceil(samples.length / factor);
  const out = room && room.length >= length ? room.subarray(0, length) : new Float64Array(length);
  const stretch = new Float64Array((BLOCK + 3) * factor + 2 * half + 1);
  for (let start = 0; start < out.length; start += BLOCK) {
    fill(stretch, samples, start * factor - half);
    const count = Math.min(BLOCK, out.length - start);
    for (let k = 0; k < count; k += 4) {
      const a = half + k * factor;
      const b = a + factor;
      const c = b + factor;
      const d = c + factor;
      let sumA = middle * stretch[a];
      let sumB = middle * stretch[b];
      let sumC = middle * stretch[c];
      let sumD = middle * stretch[d];
      for (let i = 0; i < gain.length; i++) {
        const r = reach[i];
        const g = gain[i];
        sumA += g * (stretch[a - r] + stretch[a + r]);
        sumB += g * (stretch[b - r] + stretch[b + r]);
        sumC += g * (stretch[c - r] + stretch[c + r]);
        sumD += g * (stretch[d - r] + stretch[d + r]);
      }
      // beyond the end nothing is written
      out[start + k] = sumA;
      out[start + k + 1] = sumB;
      out[start + k + 2] = sumC;
      out[start + k + 3] = sumD;
    }
  }
  return out;
}

/** The samples from a place on, silence where there are none. */
function fill(stretch: Float64Array, samples: Samples, from: number): void {
  const [first, last] = [Math.max(0, from), Math.min(samples.length, from + stretch.length)];
  if (first > from) stretch.fill(0, 0, first - from);
  stretch.set(samples.subarray(first, last), first - from);
  if (last - from < stretch.length) stretch.fill(0, last - from);
}

function check(sampleRateHz: number, bandHz: number): void {
  if (!(sampleRateHz > 0 && Number.isFinite(sampleRateHz))) {
    throw makeRefusal('decimate-rate', { rateHz: sampleRateHz }, { field: 'sampleRateHz' });
  }
  if (!(bandHz > 0 && bandHz < sampleRateHz / 2)) {
    throw makeRefusal('decimate-band', { bandHz, rateHz: sampleRateHz }, { field: 'bandHz' });
  }
}
