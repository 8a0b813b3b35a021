import type { Curve } from '../model/curve';
import { BassloomError } from '../model/errors';
import { weightingOf } from './weightingOf';

/**
 * Refuse a weighted curve: range, roll-off and compression would be those of the weighting.
 *
 * @param curve any curve. @throws BassloomError `weighted-curve`.
 */
export function refuseWeighted(curve: Curve): void {
  const weighting = weightingOf(curve);
  if (weighting === undefined) return;
  throw new BassloomError(
    'weighted-curve',
    `${curve.label} is ${weighting}-weighted, which takes tens of dB from the bass; give the curve without the weighting, or allow weighted curves.`,
    { field: 'curve' },
  );
}
