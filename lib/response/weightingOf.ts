import type { Curve } from '../model/curve';
import { stepsOf } from '../model/step';

/** Frequency weighting that a curve carries: 'A' or 'C'; undefined of a curve as it was measured. */
export function weightingOf(curve: Pick<Curve, 'steps'>): 'A' | 'C' | undefined {
  const weightings = stepsOf(curve, 'frequency weighting').map((step) => step.with.weighting);
  return weightings.find((weighting) => weighting !== 'Z');
}
