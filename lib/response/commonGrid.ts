import type { Curve } from '../model/curve';
import { makeRefusal } from '../words/makeRefusal';
import { asNumbered } from '../words/numbered';

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
  const values = asNumbered({
    label: curves.map(({ label }) => label),
    lowHz: curves.map(({ frequencyHz: f }) => f[0]),
    highHz: curves.map(({ frequencyHz: f }) => f[f.length - 1]),
  });
  throw makeRefusal('no-common-range', values, { field: 'frequencyHz' });
}
