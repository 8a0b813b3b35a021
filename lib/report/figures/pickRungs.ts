/**
 * Pick a few of many runs, lowest first: the first, the last and some evenly between.
 *
 * @example
 * pickEvenly(9, 0, 4) // [0, 3, 5, 8]
 */
export function pickEvenly(count: number, first: number, most: number): number[] {
  const span = count - 1 - first;
  if (span <= 0) return [Math.max(0, first)];
  const picks = Math.min(most, span + 1);
  return [...new Set(Array.from({ length: picks }, (_, k) => first + Math.round((span * k) / (picks - 1))))];
}
