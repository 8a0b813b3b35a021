import type { Cells } from '../cells';

/** Variance of a level in dB^2, by noise and by what else scatters single cells; never below what rounding to 0.01 dB does. */
export function cellVariance(cells: Cells, rung: number, band: number, cellScatterDb: number): number {
  const error = cells.errorDb[rung][band];
  return (Number.isNaN(error) ? 0 : error * error) + cellScatterDb ** 2 + 0.003 ** 2;
}
