const FIRST = 5;

/** Gathers what happened to which lines: counts all, names the first few. */
export class LineNotes {
  private readonly seen = new Map<string, { count: number; lines: number[] }>();

  add(what: string, line: number): void {
    let entry = this.seen.get(what);
    if (!entry) {
      entry = { count: 0, lines: [] };
      this.seen.set(what, entry);
    }
    entry.count++;
    if (entry.lines.length < FIRST) entry.lines.push(line);
  }

  /** One sentence for each thing that happened, such as '2 rows dropped: no level (lines 3, 9).' */
  sentences(): string[] {
    return [...this.seen].map(([what, { count, lines }]) => {
      const numbers = lines.join(', ') + (count > lines.length ? ' and more' : '');
      return `${count} ${count === 1 ? what.replace('rows', 'row').replace('lines', 'line') : what} (line${count === 1 ? '' : 's'} ${numbers}).`;
    });
  }
}
