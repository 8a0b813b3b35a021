import type { Curve } from '../lib/model/curve';

/** Curves that agree in some of what is known about them, in the order of their first ones. */
export function groupBy(curves: Curve[], keys: (keyof Curve['about'])[]): Curve[][] {
  const groups = new Map<string, Curve[]>();
  for (const curve of curves) {
    const key = JSON.stringify(keys.map((name) => curve.about[name]));
    groups.set(key, [...(groups.get(key) ?? []), curve]);
  }
  return [...groups.values()];
}
