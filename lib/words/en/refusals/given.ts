import type { CaveatValue } from '../../../model/caveat';
import type { Format } from '../../format';

/**
 * A value that was refused, as it stands after 'is': 'is −3 Hz', 'is not a number', "is 'loud'", 'is missing'.
 *
 * @param unit written behind a number.
 */
export function given(value: CaveatValue, say: Format, unit?: string): string {
  if (value === null) return 'missing';
  if (typeof value !== 'number') return `'${value}'`;
  if (Number.isNaN(value)) return 'not a number';
  return Number.isFinite(value) ? say.exact(value, unit) : 'infinite';
}
