import { describe, expect, it } from 'vitest';
import { compareSettings } from '../../lib/analysis/settingDifference/compareSettings';
import type { Curve } from '../../lib/model/curve';
import { makeCurve } from '../../lib/model/makeCurve';
import { differenceFigure } from '../../lib/report/figures/differenceFigure';
import { drawSession } from '../../lib/report/figures/drawnSession';
import { sortSession } from '../../lib/report/session';

const HZ = Array.from({ length: 48 * 5 }, (_, i) => 7 * 2 ** (i / 48));

/** A response in a room with run-to-run ripple of some tenths of a dB. @param changeDb what the switch does. */
function run(setting: string, seed: number, changeDb: (hz: number) => number): Curve {
  const levelDb = HZ.map((hz, i) => {
    const room = -9 * Math.exp(-((24 * Math.log2(hz / 37)) ** 2) / 18);
    const ripple = 0.2 * Math.sin(1.7 * i + seed) + 0.1 * Math.sin(0.61 * i + 2 * seed);
    return 85 - 10 * Math.log10(1 + (18 / hz) ** 4) + room + ripple + changeDb(hz);
  });
  return makeCurve({ frequencyHz: HZ, levelDb, about: { device: 'X', setting, driveDb: 0 } });
}

const SWITCHES: [string, (hz: number) => number][] = [
  ['a gentle shelf', (hz) => 5 / (1 + (hz / 25) ** 2)],
  ['a steep shelf', (hz) => -6 / (1 + (hz / 22) ** 6)],
  ['a high-pass', (hz) => -10 * Math.log10(1 + (20 / hz) ** 8)],
  ['a level control', () => -3],
  ['a broad peak', (hz) => 4 * Math.exp(-((1.3 * Math.log2(hz / 20)) ** 2))],
];

describe('the figure of a setting difference', () => {
  it.each(SWITCHES)('has its dots on its line: %s', (_, changeDb) => {
    for (const seed of [1, 2, 3]) {
      const [a, b] = [run('a', seed, changeDb), run('b', seed + 5, () => 0)];
      const difference = compareSettings(a, b);
      const drawn = drawSession(sortSession('X', [a, b], { settingDifference: [difference] }));
      const rows = differenceFigure(drawn, difference, 1)?.table.rows ?? [];
      const dots = difference.at.filter(({ trusted }) => trusted);
      expect(dots.length).toBeGreaterThan(2);
      for (const { frequencyHz, differenceDb } of dots) {
        const onLine = rows.find(([hz]) => hz === String(frequencyHz))?.[1] as number;
        // a dot has a radius of 4.5 px, some 0.2 dB
        expect(Math.abs(onLine - differenceDb), `${frequencyHz} Hz`).toBeLessThan(0.3);
      }
    }
  });
});
