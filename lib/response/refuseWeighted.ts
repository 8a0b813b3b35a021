import type { Curve } from '../model/curve';
import { BassloomError } from '../model/errors';
import { WEIGHTING_STEP } from './weightCurve';

/**
 * Which frequency weighting a curve carries.
 *
 * @param curve any curve. @returns 'A', 'C' or another name; undefined where it is unweighted (also where Z was asked for).
 *
 * @example
 * weightingOf(weightCurve(makeCurve({ frequencyHz: [20], levelDb: [80] }), 'A')) // 'A'
 */
export function weightingOf(curve: Pick<Curve, 'steps'>): string | undefined {
  for (const { did, with: details } of curve.steps) {
    if (did === WEIGHTING_STEP && details.weighting !== 'Z') return String(details.weighting);
  }
  return undefined;
}

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
