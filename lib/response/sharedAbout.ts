import type { About, Curve } from '../model/curve';
import type { Step } from '../model/step';

/** What several curves have in common of what they are: fields that all of them give alike. */
export function sharedAbout(curves: readonly Curve[]): About {
  const [first, ...others] = curves;
  const alike = (key: keyof About) => others.every((curve) => curve.about[key] === first.about[key]);
  return Object.fromEntries(Object.entries(first.about).filter(([key]) => alike(key as keyof About)));
}

/** Steps that were done to all of several curves with the same settings, in the first one's order. */
export function sharedSteps(curves: readonly Curve[]): Step[] {
  const [first, ...others] = curves;
  const told = others.map((curve) => new Set(curve.steps.map((step) => JSON.stringify(step))));
  return first.steps.filter((step) => told.every((steps) => steps.has(JSON.stringify(step))));
}
