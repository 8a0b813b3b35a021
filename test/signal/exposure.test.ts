import { describe, expect, it } from 'vitest';
import { exposureDose, permittedSeconds } from '../../lib/signal/exposure';

// NIOSH publication 98-126, table 1-1 (from memory); the table drops or rounds what is below its last unit
const TABLE: [dba: number, hours: number, minutes: number, seconds: number, lastUnit: number][] = [
  [80, 25, 24, 0, 60],
  [82, 16, 0, 0, 60],
  [83, 12, 42, 0, 60],
  [85, 8, 0, 0, 60],
  [86, 6, 21, 0, 60],
  [88, 4, 0, 0, 60],
  [91, 2, 0, 0, 60],
  [94, 1, 0, 0, 60],
  [95, 0, 47, 37, 1],
  [97, 0, 30, 0, 1],
  [100, 0, 15, 0, 1],
  [103, 0, 7, 30, 1],
  [106, 0, 3, 45, 1],
  [109, 0, 1, 53, 1],
  [112, 0, 0, 56, 1],
  [115, 0, 0, 28, 1],
];

describe('the permitted time', () => {
  it.each(TABLE)('at %i dBA agrees with the table', (dba, hours, minutes, seconds, lastUnit) => {
    expect(Math.abs(permittedSeconds(dba) - (3600 * hours + 60 * minutes + seconds))).toBeLessThan(lastUnit);
  });

  it('is none above 140 dBA', () => {
    expect(permittedSeconds(140.1)).toBe(0);
    expect(permittedSeconds(140)).toBeGreaterThan(0);
  });

  it('adds up: half the time at each of two levels is all of it', () => {
    expect(
      exposureDose([
        { levelDba: 85, seconds: 4 * 3600 },
        { levelDba: 100, seconds: 450 },
      ]),
    ).toBeCloseTo(1, 12);
    expect(exposureDose([])).toBe(0);
    expect(exposureDose([{ levelDba: 150, seconds: 1 }])).toBe(Number.POSITIVE_INFINITY);
    expect(exposureDose([{ levelDba: 150, seconds: 0 }])).toBe(0);
  });

  it('refuses what is no level and no time', () => {
    expect(() => permittedSeconds(Number.NaN)).toThrow(expect.objectContaining({ code: 'exposure-level' }));
    expect(() => exposureDose([{ levelDba: 90, seconds: -1 }])).toThrow(
      expect.objectContaining({ code: 'exposure-time' }),
    );
  });
});
