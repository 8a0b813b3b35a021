import { median } from '../../fitting/median';

/** Standard deviation of points about a line, from neighbours, so that edges and slopes do not count; 0 for three and fewer. */
export function roughness(values: number[]): number {
  const steps = values.slice(1).map((value, i) => value - values[i]);
  const middle = median(steps);
  // 0.674 of a standard deviation; a difference of two
  return steps.length > 2 ? median(steps.map((step) => Math.abs(step - middle))) / 0.674 / Math.SQRT2 : 0;
}
