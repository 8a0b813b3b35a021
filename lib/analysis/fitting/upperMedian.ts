/**
 * Median of a column, the upper of the two middle values where their number is even; NaN for none.
 *
 * @param values finite numbers; they are put in another order, the lower half before the median.
 *
 * O(N) on average, without the sorting of what is not asked for. Reference: C. A. R. Hoare, Algorithm 65: Find, Comm.
 * ACM 4 (1961) 321-322.
 *
 * @example
 * upperMedian(Float64Array.of(5, 1, 3)) // 3
 */
export function upperMedian(values: Float64Array): number {
  const wanted = values.length >> 1;
  let from = 0;
  let to = values.length - 1;
  while (from < to) {
    const pivot = values[wanted];
    let i = from;
    let k = to;
    while (i <= k) {
      while (values[i] < pivot) i++;
      while (values[k] > pivot) k--;
      if (i > k) break;
      const value = values[i];
      values[i++] = values[k];
      values[k--] = value;
    }
    if (k < wanted) from = i;
    if (i > wanted) to = k;
  }
  return values[wanted] ?? Number.NaN;
}
