import { describe, expect, it } from 'vitest';
import { drawText } from './drawn/drawText';
import { judge } from './drawn/judge';

const [from, to] = process.env.BASSLOOM_TEXTS?.split('-').map(Number) ?? [0, 2000];

describe(`texts of known truth ${from} to ${to}`, () => {
  it('are read as meant, doubted or refused; never wrong without a word', { timeout: 600_000 }, () => {
    const counts = new Map<string, number>();
    const bad: string[] = [];
    for (let number = from; number < to; number++) {
      const drawn = drawText(number);
      const { outcome, why, doubts } = judge(drawn);
      const kind = `${drawn.isNormal ? 'normal' : 'odd'}: ${outcome}`;
      counts.set(kind, (counts.get(kind) ?? 0) + 1);
      const isBad = outcome === 'crash' || outcome === 'wrong' || (drawn.isNormal && outcome !== 'right');
      if (isBad) bad.push(`${number} ${kind} (${why}; ${doubts}) ${drawn.odd}`);
    }
    console.info(
      [...counts]
        .map(([kind, count]) => `${kind} ${count}`)
        .sort()
        .join('\n'),
    );

    expect(bad.slice(0, 20)).toEqual([]);
  });
});
