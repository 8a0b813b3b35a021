import { median } from '../../fitting/median';

/**
 * Standard deviation of points about a line, from neighbours, so that edges and slopes do not count; 0 for three and fewer.
 *
 * @param from @param to the first and the last that count; all where left out.
 */
export function roughness(values: number[], from = 0, to = values.length - 1): number {
  const count = to - from;
  if (!(count > 2)) return 0;
  const steps = new Float64Array(count);
  for (let i = 0; i < count; i++) steps[i] = values[from + i + 1] - values[from + i];
  const middle = median(steps);
  for (let i = 0; i < count; i++) steps[i] = Math.abs(steps[i] - middle);
  // 0.674 of a standard deviation; a difference of two
  return median(steps) / 0.674 / Math.SQRT2;
}
