import { expect, test } from 'vitest';
import type { Distortion } from '../../lib/model/findings';
import { summariseDistortion } from '../../lib/report/summariseDistortion';
import { SUMMARY_LENGTH } from '../../lib/report/summary';

const found = (driveDb: (number | null)[], levelDb: (number | null)[], rungs = 6, percent = 3): Distortion => ({
  rungs: Array.from({ length: rungs }, (_, i) => ({ curve: `c${i}`, label: `c${i}`, driveDb: 3 * i })),
  bandsHz: [10 ** 1.2, 10 ** 1.5],
  thdToOrder: 5,
  thdPercent: [],
  harmonics: [],
  noisePercent: [],
  trusted: [],
  levelDb: [],
  scale: 'spl',
  passes: [{ percent, driveDb, levelDb, reached: driveDb.map((drive) => drive !== null) }],
  caveats: [],
});

test.each([
  [[], 'nothing found'],
  [[found([9.2, 12], [90, 95])], '6 rungs, 3 % at 16 Hz +9 dB'],
  [[found([null, 12], [90, 95])], '6 rungs, 3 % at 31.5 Hz +12 dB'],
  [[found([9, null], [90, 95]), found([6.4, 6.3], [1, 1])], '2 settings, 3 % at 31.5 Hz +6 dB'],
  [[found([null, null], [90, null])], '6 rungs, below 3 %'],
  [[found([null, null], [null, null], 1)], '1 rung, THD lost in noise'],
  [new Array(12).fill(found([null, 12], [90, 95], 6, 12.5)), '12.5 % at 31.5 Hz +12 dB'],
])('a summary of distortion is short: %#', (distortion, wanted) => {
  expect(summariseDistortion(distortion)).toBe(wanted);
  expect(wanted.length).toBeLessThanOrEqual(SUMMARY_LENGTH);
});
