import { describe, expect, it } from 'vitest';
import { checkColumns } from '../../lib/model/checkColumns';

const rising = () => Array.from({ length: 11 }, (_, i) => 20 + i);
const refusalOf = (frequencyHz: unknown[], levelDb: unknown[]) => {
  try {
    checkColumns('run', { frequencyHz, levelDb } as never, 'run');
    return undefined;
  } catch (refusal) {
    const { code, field, index } = refusal as { code: string; field: string; index: number };
    return [code, field, index];
  }
};

describe('the columns of a curve', () => {
  const places = rising().map((_, i) => i);
  it.each(places)('are found out by one bad value, wherever it stands: %i', (at) => {
    for (const bad of [Number.NaN, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY, null, undefined, '31', [31]]) {
      expect(refusalOf(rising(), rising().with(at, bad as number))).toEqual(['not-a-number', 'levelDb', at]);
      expect(refusalOf(rising().with(at, bad as number), rising())).toEqual(['not-a-number', 'frequencyHz', at]);
    }
    const hole = rising();
    delete hole[at];
    expect(refusalOf(rising(), hole)).toEqual(['not-a-number', 'levelDb', at]);
    if (at > 0) {
      const equal = rising().with(at, 19 + at);
      expect(refusalOf(equal, rising())).toEqual(['frequency-not-rising', 'frequencyHz', at]);
    }
    expect(refusalOf(rising().with(at, -1), rising())).toEqual(['frequency-not-rising', 'frequencyHz', at]);
  });

  it('may hold numbers as large as there are', () => {
    expect(refusalOf(rising(), new Array(11).fill(-Number.MAX_VALUE))).toBeUndefined();
  });
});
