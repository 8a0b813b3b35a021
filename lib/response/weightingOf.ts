import type { Curve } from '../model/curve';
import { WEIGHTING_STEP } from './weightCurve';

/** Frequency weighting that a curve carries: 'A' or 'C'; undefined of a curve as it was measured. */
export function weightingOf({ steps }: Pick<Curve, 'steps'>): string | undefined {
  const step = steps.find(({ did, with: { weighting } }) => did === WEIGHTING_STEP && weighting !== 'Z');
  return step && String(step.with.weighting);
}
