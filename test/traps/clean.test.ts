import { describe, expect, it } from 'vitest';
import { bottomLimiter, judged, summary, VARIANTS } from './sessions';
import { simulateNoise, simulateSession } from './simulatedSession';

const room = [
  { hz: 36, db: -9, octaves: 0.18 },
  { hz: 62, db: -7, octaves: 0.15 },
  { hz: 28, db: 5, octaves: 0.2 },
];
const shelf = (hz: number) => 6 / (1 + (hz / 35) ** 2);

describe('a clean session', () => {
  it.each(VARIANTS)('of two settings in a room gets at most two sentences of doubt: %o', (grid) => {
    for (const ceilingDb of [undefined, bottomLimiter]) {
      const { doubts, headlines } = summary([
        ...simulateSession({ ...grid, room, ceilingDb }),
        ...simulateSession({ ...grid, room, ceilingDb, setting: 'shelf', seed: 12, extraDb: shelf }),
        simulateNoise(grid),
      ]);
      expect(doubts.map(({ message }) => message).slice(2)).toEqual([]);
      expect(headlines.length).toBeGreaterThanOrEqual(3);
      expect(headlines.length).toBeLessThanOrEqual(7);
    }
  });

  it.each(VARIANTS)('without a room and limits gets none: %o', (grid) => {
    const { doubts, ladder, headlines, details } = judged(grid);
    expect(doubts.map(({ message }) => message)).toEqual([]);
    expect(ladder.extent).toBe('none');
    expect(headlines).toContain('limits-none');
    expect(headlines).toContain('shape-kept');
    expect(details).toContain('steps-as-commanded');
  });

  it.each(VARIANTS)('reaches as deep as the unit does, whatever dips lie on the way: %o', (grid) => {
    const bare = judged(grid).findings.bandFit?.[4].points[1];
    const { findings, verdict } = judged({ ...grid, room: [{ hz: 36, db: -9, octaves: 0.18 }] });
    const six = findings.bandFit?.[4].points[1];
    expect(Math.abs(Math.log2(six!.lowHz! / bare!.lowHz!))).toBeLessThan(0.12);
    expect(verdict.join(' ')).toMatch(/past a dip at 3[4-7]/);
  });
});
