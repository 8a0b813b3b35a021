import type { Curve } from '../model/curve';
import { makeRefusal } from '../words/makeRefusal';
import { weightingOf } from './weightingOf';

/**
 * Refuse a weighted curve: range, roll-off and compression would be those of the weighting.
 *
 * @param curve any curve. @throws BassloomError `weighted-curve`.
 */
export function refuseWeighted(curve: Curve): void {
  const weighting = weightingOf(curve);
  if (weighting === undefined) return;
  throw makeRefusal('weighted-curve', { label: curve.label, weighting }, { field: 'curve' });
}
