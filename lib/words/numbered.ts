import type { CaveatValue } from '../model/caveat';

/** Values are flat: a list stands in them as hz1, hz2, ... */
export type Listed = Record<string, CaveatValue>;

/** The list of one name in flat values, as far as it goes: hz1, hz2, ... */
export function numbered<T extends CaveatValue>(values: Listed, name: string): T[] {
  const list: T[] = [];
  for (let k = 1; values[`${name}${k}`] !== undefined; k++) list.push(values[`${name}${k}`] as T);
  return list;
}

/** Put lists into flat values: {hz: [20, 40]} -> {hz1: 20, hz2: 40}. */
export function asNumbered(lists: Record<string, readonly CaveatValue[]>): Listed {
  return Object.fromEntries(
    Object.entries(lists).flatMap(([name, list]) => list.map((value, k) => [`${name}${k + 1}`, value])),
  );
}
