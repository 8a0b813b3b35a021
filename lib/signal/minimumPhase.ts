import { makeRefusal } from '../words/makeRefusal';
import { hilbert } from './hilbert';

/** Deepest a level may lie below the highest: deeper notches are cut here, since a zero has no logarithm. */
const DEEPEST_DB = 300;
/** An end that much below its neighbour is a zero, not a slope. */
const ZERO_DB = 100;

/**
 * Phase that a minimum-phase system has, from its level alone.
 *
 * @param levelDb levels at 0, 1, 2 ... N/2 times sampleRate / N, N a power of two: N/2 + 1 values.
 * @returns phase in radians at the same frequencies (exp(+jwt)).
 * @throws BassloomError `minimum-phase-grid` for another number of levels, `not-a-number`.
 *
 * Notes: minus the Hilbert transform of the logarithm of the level over one period of the spectrum. The grid must be
 * fine against the sharpest bend, or the result folds. A zero
 * at 0 Hz or at half the sample rate (-Infinity, or 100 dB below its neighbour) is divided out, its order taken from
 * the slope beside it, and its known phase added; zeros elsewhere are taken as 300 dB below the highest level.
 *
 * Reference: A. V. Oppenheim, R. W. Schafer, Discrete-Time Signal Processing, ch. 12.
 *
 * @example
 * minimumPhase(new Float64Array(513)) // flat level: phase 0
 */
export function minimumPhase(levelDb: ArrayLike<number>): Float64Array {
  const length = 2 * (levelDb.length - 1);
  if (!(length >= 4 && Number.isInteger(Math.log2(length)))) {
    throw makeRefusal('minimum-phase-grid', { levels: levelDb.length }, { field: 'levelDb' });
  }
  let highest = Number.NEGATIVE_INFINITY;
  for (let k = 0; k < levelDb.length; k++) {
    if (Number.isNaN(levelDb[k]) || levelDb[k] === Number.POSITIVE_INFINITY) {
      throw makeRefusal('not-a-number', { label: null, index: k }, { field: 'levelDb' });
    }
    highest = Math.max(highest, levelDb[k]);
  }
  if (highest === Number.NEGATIVE_INFINITY) return new Float64Array(levelDb.length);
  const logarithm = Float64Array.from({ length }, (_, k) => {
    const level = levelDb[Math.min(k, length - k)];
    return (Math.max(level, highest - DEEPEST_DB) * Math.LN10) / 20;
  });
  const low = divideZeroOut(logarithm, 0, 1);
  const high = divideZeroOut(logarithm, length / 2, -1);
  // zeros 1 - 1/z turn by (pi - w) / 2, zeros 1 + 1/z by -w / 2
  return hilbert(logarithm)
    .subarray(0, levelDb.length)
    .map((x, k) => (low * Math.PI) / 2 - (low + high) * ((Math.PI * k) / length) - x);
}

/** Take a zero at the bin `end` out of the logarithm, in place; its order, 0 where there is none. */
function divideZeroOut(logarithm: Float64Array, end: number, inward: 1 | -1): number {
  const length = logarithm.length;
  const zero = (k: number) => Math.log(2 * Math.abs(Math.sin((Math.PI * (k - end)) / length)));
  const [first, second] = [end + inward, end + 2 * inward];
  if (logarithm[first] - logarithm[end] < (ZERO_DB * Math.LN10) / 20) return 0;
  const order = Math.max(0, Math.round((logarithm[second] - logarithm[first]) / (zero(second) - zero(first))));
  for (let k = 0; k < length; k++) if (k !== end) logarithm[k] -= order * zero(k);
  // what is left is smooth and the same on both sides
  if (order > 0) logarithm[end] = (4 * logarithm[first] - logarithm[second]) / 3;
  return order;
}
