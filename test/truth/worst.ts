import { expect } from 'vitest';

interface Entry {
  error: number;
  allowed: number;
  where: string;
}

/** Collects errors by claim, prints the table of the worst and fails with all that are too large. */
export class Worst {
  private readonly claims = new Map<string, Entry[]>();

  /** A difference to the truth with what is allowed. */
  add(claim: string, error: number, allowed: number, where: string): void {
    const entries = this.claims.get(claim) ?? [];
    entries.push({ error: Math.abs(error), allowed, where });
    this.claims.set(claim, entries);
  }

  /** Something that must be so. */
  must(claim: string, holds: boolean, where: string): void {
    this.add(claim, holds ? 0 : 1, 0, where);
  }

  misses(claim: string): Entry[] {
    // NaN is a miss
    return (this.claims.get(claim) ?? []).filter(({ error, allowed }) => !(error <= allowed));
  }

  print(title: string): void {
    const rows = [...this.claims].map(([claim, entries]) => {
      const sorted = [...entries].sort((a, b) => b.error - b.allowed - (a.error - a.allowed));
      const worst = sorted.find((entry) => Number.isNaN(entry.error)) ?? sorted[0];
      const isRule = entries.every((entry) => entry.allowed === 0);
      return {
        claim,
        checked: entries.length,
        'worst error': isRule ? '-' : worst.error.toFixed(3),
        allowed: isRule ? '-' : worst.allowed.toFixed(3),
        misses: this.misses(claim).length,
        where: isRule && worst.error === 0 ? '' : worst.where,
      };
    });
    console.log(`${title}\n${table(rows)}`);
  }

  /** Assert a claim: at least `least` checks were made and none missed. */
  hold(claim: string, least = 1): void {
    expect((this.claims.get(claim) ?? []).length, `checks of '${claim}'`).toBeGreaterThanOrEqual(least);
    const misses = this.misses(claim).map((miss) => `${miss.where}: ${miss.error.toFixed(3)} > ${miss.allowed}`);
    expect(misses, claim).toEqual([]);
  }
}

function table(rows: Record<string, string | number>[]): string {
  const names = Object.keys(rows[0] ?? {});
  const width = names.map((name) => Math.max(name.length, ...rows.map((row) => String(row[name]).length)));
  const line = (cells: (string | number)[]) => cells.map((cell, i) => String(cell).padEnd(width[i])).join('  ');
  return [line(names), line(width.map((w) => '-'.repeat(w))), ...rows.map((row) => line(names.map((n) => row[n])))]
    .map((text) => text.trimEnd())
    .join('\n');
}
