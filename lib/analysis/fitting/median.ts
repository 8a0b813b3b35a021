/**
 * Median of some values: the middle one, or the mean of the middle two; NaN for none.
 *
 * @example
 * median([5, 1, 3, 2]) // 2.5
 */
export function median(values: ArrayLike<number>): number {
  // sorted as numbers without a function that compares, which takes a fifth of the time
  const sorted = Float64Array.from(values).sort();
  const middle = sorted.length >> 1;
  return sorted.length % 2 ? sorted[middle] : 0.5 * (sorted[middle - 1] + sorted[middle]);
}
