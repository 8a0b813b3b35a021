import type { About } from '../lib/model/curve';

/** Measurements that agree in some of what is known about them, in the order of their first ones. */
export function groupBy<M extends { about: About }>(measurements: M[], keys: (keyof About)[]): M[][] {
  const groups = new Map<string, M[]>();
  for (const measurement of measurements) {
    const key = JSON.stringify(keys.map((name) => measurement.about[name]));
    groups.set(key, [...(groups.get(key) ?? []), measurement]);
  }
  return [...groups.values()];
}
