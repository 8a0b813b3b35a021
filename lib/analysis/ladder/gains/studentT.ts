/** Two-sided 95 % points of Student's t for 1..30 degrees of freedom (any statistical handbook). */
const POINTS = [
  12.706, 4.303, 3.182, 2.776, 2.571, 2.447, 2.365, 2.306, 2.262, 2.228, 2.201, 2.179, 2.16, 2.145, 2.131, 2.12, 2.11,
  2.101, 2.093, 2.086, 2.08, 2.074, 2.069, 2.064, 2.06, 2.056, 2.052, 2.048, 2.045, 2.042,
];

/**
 * Give the number of standard errors that hold 95 % of chance, both sides, for a deviation estimated with few degrees of freedom.
 *
 * @param freedom whole number, >= 1.
 *
 * @example
 * studentT(8) // 2.306
 */
export function studentT(freedom: number): number {
  return freedom <= POINTS.length ? POINTS[freedom - 1] : 1.95996 + 2.5 / freedom;
}
