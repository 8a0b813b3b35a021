import FFT from 'fft.js';
import { makeRefusal } from '../words/makeRefusal';

/** Shortest length that can be transformed. */
const SHORTEST = 4;
/** Tables of 2^21 samples take 24 MB, so only the last few lengths are kept; short ones together take 2 MB. */
const KEPT_PLANS = 2;
const SHORT = 2 ** 16;

interface Plan {
  half: FFT;
  /** exp(-j 2 pi k / N), k = 0 .. N/4, interleaved. */
  turns: Float64Array;
  /** Room for samples in between, where they are few enough to keep it. */
  room?: Float64Array;
}
/** Longest transform whose room is kept, 2 MB. */
const LONGEST_ROOM = 2 ** 18;
const plans = new Map<number, Plan>();

/**
 * Smallest length at or above a number of samples that transforms fast: a power of two, at least 4.
 *
 * @example
 * nextFastLength(48000) // 65536
 */
export function nextFastLength(samples: number): number {
  return Math.max(SHORTEST, 2 ** Math.ceil(Math.log2(Math.max(1, samples))));
}

/**
 * Spectrum of real samples: X[k] = sum of x[n] exp(-j 2 pi k n / N), k = 0 .. N/2.
 *
 * @param samples real samples; they are followed by silence up to `length`.
 * @param length N, a power of two, at least 4 and at least as long as the samples; the next one where left out.
 * @param room where the bins go, N + 2 numbers, for one transform after another; else they get memory of their own.
 * @returns N/2 + 1 complex bins, real and imaginary parts in turn (N + 2 numbers).
 * @throws BassloomError `fft-length`.
 *
 * Notes: N real samples are transformed as N/2 complex ones and taken apart by their symmetry, which costs half of a
 * complex transform and half of its tables. Rounding grows as sqrt(lg N) * 1e-16 of the largest bin.
 *
 * Reference: W. H. Press et al., Numerical Recipes, 3rd ed. (2007), 12.3.2.
 *
 * @example
 * realFft(Float64Array.of(1, 0, 0, 0)) // [1, 0, 1, 0, 1, 0]
 */
export function realFft(
  samples: Float64Array,
  length = nextFastLength(samples.length),
  room?: Float64Array,
): Float64Array {
  if (samples.length > length) refuseLength(length, samples.length);
  const plan = planFor(length);
  const { half, turns } = plan;
  let packed = samples;
  if (samples.length < length) {
    packed = roomOf(plan, length);
    packed.set(samples);
    packed.fill(0, samples.length);
  }
  const bins = room?.length === length + 2 ? room : new Float64Array(length + 2);
  half.transform(bins.subarray(0, length), packed);
  takeApart(bins, turns, length);
  return bins;
}

/**
 * Real samples of a spectrum: the inverse of `realFft`, divided by N.
 *
 * @param bins N/2 + 1 complex bins, real and imaginary parts in turn; the imaginary parts of the first and the last
 * bin, which no real signal has, are left out.
 * @param room where the samples go, N numbers; else they get memory of their own.
 * @returns N samples.
 * @throws BassloomError `fft-length` where N is not a power of two of at least 4.
 *
 * @example
 * inverseRealFft(realFft(Float64Array.of(1, 2, 3, 4))) // [1, 2, 3, 4]
 */
export function inverseRealFft(bins: Float64Array, room?: Float64Array): Float64Array {
  const length = bins.length - 2;
  const plan = planFor(length);
  const { half, turns } = plan;
  const packed = putTogether(bins, turns, roomOf(plan, length));
  const samples = room?.length === length ? room : new Float64Array(length);
  half.inverseTransform(samples, packed);
  return samples;
}

function planFor(length: number): Plan {
  const known = plans.get(length);
  if (known) {
    plans.delete(length); // the last used stands last
    plans.set(length, known);
    return known;
  }
  if (!(length >= SHORTEST && Number.isInteger(Math.log2(length)))) refuseLength(length);
  const turns = new Float64Array(length / 2 + 2);
  for (let k = 0; k <= length / 4; k++) {
    turns[2 * k] = Math.cos((2 * Math.PI * k) / length);
    turns[2 * k + 1] = -Math.sin((2 * Math.PI * k) / length);
  }
  const plan = { half: new FFT(length / 2), turns };
  plans.set(length, plan);
  const long = [...plans.keys()].filter((known) => known > SHORT);
  if (long.length > KEPT_PLANS) plans.delete(long[0]);
  return plan;
}

/** In place: from the bins of even + j odd samples to those of all of them. */
function takeApart(bins: Float64Array, turns: Float64Array, length: number): void {
  const [sum, difference] = [bins[0] + bins[1], bins[0] - bins[1]];
  for (let a = 2, b = length - 2; a <= b; a += 2, b -= 2) {
    const evenRe = (bins[a] + bins[b]) / 2;
    const evenIm = (bins[a + 1] - bins[b + 1]) / 2;
    const oddRe = (bins[a + 1] + bins[b + 1]) / 2;
    const oddIm = (bins[b] - bins[a]) / 2;
    const re = oddRe * turns[a] - oddIm * turns[a + 1];
    const im = oddRe * turns[a + 1] + oddIm * turns[a];
    bins[a] = evenRe + re;
    bins[a + 1] = evenIm + im;
    bins[b] = evenRe - re;
    bins[b + 1] = im - evenIm;
  }
  bins[0] = sum;
  bins[1] = 0;
  bins[length] = difference;
  bins[length + 1] = 0;
}

/** Room for as many numbers as a transform is long; what it holds is of no use any more. */
function roomOf(plan: Plan, length: number): Float64Array {
  if (length > LONGEST_ROOM) return new Float64Array(length);
  plan.room ??= new Float64Array(length);
  return plan.room;
}

/** The way back of `takeApart`, into another array. */
function putTogether(bins: Float64Array, turns: Float64Array, packed: Float64Array): Float64Array {
  const { length } = packed;
  packed[0] = (bins[0] + bins[length]) / 2;
  packed[1] = (bins[0] - bins[length]) / 2;
  for (let a = 2, b = length - 2; a <= b; a += 2, b -= 2) {
    const evenRe = (bins[a] + bins[b]) / 2;
    const evenIm = (bins[a + 1] - bins[b + 1]) / 2;
    const re = (bins[a] - bins[b]) / 2;
    const im = (bins[a + 1] + bins[b + 1]) / 2;
    const oddRe = re * turns[a] + im * turns[a + 1];
    const oddIm = im * turns[a] - re * turns[a + 1];
    packed[a] = evenRe - oddIm;
    packed[a + 1] = evenIm + oddRe;
    packed[b] = evenRe + oddIm;
    packed[b + 1] = oddRe - evenIm;
  }
  return packed;
}

/** @param samples where they are too many for it. */
function refuseLength(length: number, samples: number | null = null): never {
  throw makeRefusal('fft-length', { length, samples }, { field: 'length' });
}
