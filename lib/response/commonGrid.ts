import type { Curve } from '../model/curve';
import { BassloomError } from '../model/errors';

/**
 * Frequencies of the first curve that lie inside the range of all of several curves, Hz.
 *
 * @throws BassloomError `no-common-range` where none does.
 *
 * @example
 * commonGrid([makeCurve({ frequencyHz: [5, 10, 20], levelDb: [0, 0, 0] }), makeCurve({ frequencyHz: [8, 40], levelDb: [0, 0] })])
 * // [10, 20]
 */
export function commonGrid(curves: readonly Curve[]): number[] {
  const low = Math.max(...curves.map(({ frequencyHz }) => frequencyHz[0]));
  const high = Math.min(...curves.map(({ frequencyHz }) => frequencyHz[frequencyHz.length - 1]));
  const grid = curves[0].frequencyHz.filter((f) => f >= low && f <= high);
  if (grid.length > 0) return grid;
  const ranges = curves.map(({ label, frequencyHz: f }) => `${label} (${f[0]} to ${f[f.length - 1]} Hz)`);
  throw new BassloomError(
    'no-common-range',
    `${ranges.join(', ')} have no frequencies in common; only curves of the same range can be set against each other.`,
    { field: 'frequencyHz' },
  );
}
