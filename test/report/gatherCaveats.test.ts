import { describe, expect, it } from 'vitest';
import type { Caveat, Severity } from '../../lib/model/caveat';
import { gatherCaveats } from '../../lib/report/html/gatherCaveats';

const caveat = (code: string, severity: Severity, message: string): Caveat => ({ code, severity, values: {}, message });

describe('gathered caveats', () => {
  it('say what holds for several runs once, whatever their values', () => {
    const hum = [50.02, 50.04, 49.98].map((hz, k) => ({
      caveat: caveat('hum-found', 'doubt', `Hum at ${hz} Hz.`),
      name: `run ${k}`,
    }));
    const [only, ...rest] = gatherCaveats(hum);
    expect(rest).toEqual([]);
    expect(only).toMatchObject({ count: 3, names: ['run 0', 'run 1', 'run 2'], isSame: false });
    expect(only.caveat.message).toBe('Hum at 50.02 Hz.');
  });

  it('know whether all of them say the same', () => {
    const same = [0, 1].map((k) => ({ caveat: caveat('tabs', 'remark', 'Tabs part the columns.'), name: `${k}.txt` }));
    expect(gatherCaveats(same)[0]).toMatchObject({ isSame: true, count: 2 });
  });

  it('keep codes and severities apart, the heaviest first', () => {
    const found = gatherCaveats([
      { caveat: caveat('a', 'remark', 'A.'), name: '' },
      { caveat: caveat('a', 'warning', 'A.'), name: '' },
      { caveat: caveat('b', 'doubt', 'B.'), name: '' },
    ]);
    expect(found.map((one) => [one.caveat.code, one.caveat.severity])).toEqual([
      ['a', 'warning'],
      ['b', 'doubt'],
      ['a', 'remark'],
    ]);
  });
});
