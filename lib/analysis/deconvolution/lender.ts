/** Longest array that is kept: 2 MB. */
const MOST_KEPT = 2 ** 18;

/**
 * Make what lends memory again and again: fresh memory for every step of every capture costs the collector more time
 * than many of these steps take.
 *
 * @returns a function that gives so many numbers, any values in them, which are the caller's until it is called again.
 *
 * @example
 * const lend = lender();
 * lend(512).fill(0)
 */
export function lender(): (length: number) => Float64Array {
  let kept = new Float64Array(0);
  return (length) => {
    if (length > MOST_KEPT) return new Float64Array(length);
    if (kept.length < length) kept = new Float64Array(length);
    return kept.subarray(0, length);
  };
}
