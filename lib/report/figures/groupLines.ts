import type { ReportWords } from '../../words/reportWords';
import type { Named } from './named';
import { namesOfCurves } from './namesOfCurves';

/** More lines than this are not told apart by a colour each. */
const MOST_COLOURS = 6;

export interface NamedLines<T> {
  /** In the order in which they are to be drawn. */
  items: T[];
  /** A name for each, as it stands beside its line. */
  names: string[];
  /** Of more lines than there are colours: see `LinesChartParts`. */
  groups?: { of: number[]; names: string[] };
}

/** Name lines, and of more than there are colours make groups by unit and setting, in each the lowest drive first. */
export function groupLines<T extends Named>(given: T[], words: ReportWords): NamedLines<T> {
  if (given.length <= MOST_COLOURS) return { items: given, names: namesOfCurves(given, words) };
  const byGroup = new Map<string, T[]>();
  for (const one of given) {
    const key = JSON.stringify([one.about.device, one.about.setting, one.role, one.order]);
    byGroup.set(key, [...(byGroup.get(key) ?? []), one]);
  }
  const lists = [...byGroup.values()].map((list) => [...list].sort((a, b) => driveOf(a) - driveOf(b)));
  const items = lists.flat();
  if (lists.length === 1 || lists.length > MOST_COLOURS) {
    return { items, names: namesOfCurves(items, words), groups: { of: items.map(() => 0), names: [''] } };
  }
  const heads = lists.map(([{ about, ...first }]) => ({ ...first, about: { ...about, driveDb: undefined } }));
  return {
    items,
    names: lists.flatMap((list) => (list.length > 1 ? namesOfCurves(list, words) : [''])),
    groups: { of: lists.flatMap((list, k) => list.map(() => k)), names: namesOfCurves(heads, words) },
  };
}

function driveOf({ about }: Named): number {
  return about.driveDb ?? 0;
}
