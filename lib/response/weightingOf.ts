import type { Curve } from '../model/curve';
import { stepsOf } from '../model/step';

/**
 * Which frequency weighting a curve carries.
 *
 * @param curve any curve. @returns 'A' or 'C'; undefined where it is unweighted (also where Z was asked for).
 *
 * @example
 * weightingOf(weightCurve(makeCurve({ frequencyHz: [20], levelDb: [80] }), 'A')) // 'A'
 */
export function weightingOf(curve: Pick<Curve, 'steps'>): 'A' | 'C' | undefined {
  const weightings = stepsOf(curve, 'frequency weighting').map((step) => step.with.weighting);
  return weightings.find((weighting) => weighting !== 'Z');
}
