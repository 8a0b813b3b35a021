import type { Caveat } from '../model/caveat';
import type { WhyDropped } from '../words/en/importing';
import { makeCaveat } from '../words/makeCaveat';

/** What can happen to a line: dropped for a reason, or one of the others. */
type Event = WhyDropped | 'long-lines-dropped' | 'text-skipped' | 'thousands-separators-removed';

/** How many lines a caveat names. */
export const LINES_NAMED = 5;

const OTHERS = ['long-lines-dropped', 'text-skipped', 'thousands-separators-removed'] as const;
/** Where more of the rows than this are dropped, the file may not be what it was read as. Our own choice. */
const MANY_DROPPED = 0.1;

/** Gathers what happened to which lines: counts all, keeps the first few. */
export class LineNotes {
  private readonly seen = new Map<Event, { count: number; lines: number[] }>();

  add(what: Event, line: number): void {
    let entry = this.seen.get(what);
    if (!entry) {
      entry = { count: 0, lines: [] };
      this.seen.set(what, entry);
    }
    entry.count++;
    if (entry.lines.length < LINES_NAMED) entry.lines.push(line);
  }

  /** One for each thing that happened. @param kept how many rows were not dropped. */
  caveats(kept: number): Caveat[] {
    const dropped = [...this.seen].reduce((sum, [what, { count }]) => (isOther(what) ? sum : sum + count), 0);
    const of = kept + dropped;
    return [...this.seen].map(([what, { count, lines }]) => {
      if (isOther(what)) return makeCaveat(what, 'remark', { count }, { lines });
      const isHarmless = what === 'frequency-not-positive' || count <= MANY_DROPPED * of;
      return makeCaveat('rows-dropped', isHarmless ? 'remark' : 'doubt', { count, of, why: what }, { lines });
    });
  }
}

function isOther(what: Event): what is (typeof OTHERS)[number] {
  return (OTHERS as readonly string[]).includes(what);
}
