import { expect, test } from 'vitest';
import { readFileName, suggestPattern } from '../../lib';

test.each([
  [['Sub12 flat -06dB.txt', 'Sub12 flat -03dB.txt', 'Sub12 deep -03dB.txt'], '{device} {setting} {driveDb}dB'],
  [
    ['boxA_ported_run1.csv', 'boxA_ported_run2.csv', 'boxA_sealed_run1.csv', 'noise.csv'],
    '{device}_{setting}_run{step}',
  ],
  [['r01-tall-low.txt', 'r02-tall-low.txt', 'r01-wide-low.txt', 'r03-wide-low.txt'], 'r{step}-{setting}-{device}'],
  [['U-12_s-flat_step-01.txt', 'U-12_s-flat_step-03.txt', 'U-12_s-up_step-03.txt'], '{device}_s-{setting}_step-{step}'],
  [['a 1.txt', 'b 1.txt', 'a 2.txt', 'b 2.txt', 'a 3.txt'], '{device} {step}'],
  [
    ['Big sub, flat, -12dB.txt', 'Big sub, flat, -9dB.txt', 'Big sub, up, -9dB.txt'],
    '{device}, {setting}, {driveDb}dB',
  ],
  [['Big sub - deep - 3.txt', 'Big sub - flat - 3.txt', 'Big sub - flat - 6.txt'], '{device} - {setting} - {step}'],
  [['sub, flat -12dB.txt', 'sub, flat -9dB.txt', 'sub, up -9dB.txt'], '{device}, {setting} {driveDb}dB'],
  [['sub -12dB.txt', 'sub -9dB.txt'], '{device} {driveDb}dB'],
])('of %j the pattern is %s', (names, pattern) => {
  expect(suggestPattern(names)).toBe(pattern);
  expect(readFileName(names[0], pattern).matches).toBe(true);
});

test.each([
  ['Box 7', (what: string, db: number) => `Box 7 ${what} +${db}dB.txt`, '{device} {setting} {driveDb}dB'],
  ['12 inch', (what: string, db: number) => `12 inch ${what} ${db}.txt`, '{device} {setting} {step}'],
  ['Box 7 12in', (what: string, db: number) => `Box 7 12in ${what} -${db}dB.csv`, '{device} {setting} {driveDb}dB'],
])('the number that all share belongs to the unit %s', (unit, nameOf, pattern) => {
  const names = ['flat', 'deep'].flatMap((what) => [1, 3, 6].map((db) => nameOf(what, db)));
  expect(suggestPattern(names)).toBe(pattern);
  for (const name of names) {
    const { device, setting, driveDb } = readFileName(name, pattern).about;
    expect([device, typeof driveDb]).toEqual([unit, 'number']);
    expect(['flat', 'deep']).toContain(setting);
  }
});

test.each([
  (what: string, db: number) => `+${db}dB Box 7 ${what}.txt`,
  (what: string, db: number) => `Box_7_${what}_step-${db}.txt`,
])('where no pattern reads the unit whole, the number stays beside it, and the rest is read right', (nameOf) => {
  const names = ['flat', 'deep'].flatMap((what) => [1, 3, 6].map((db) => nameOf(what, db)));
  const pattern = suggestPattern(names) as string;
  for (const name of names) {
    expect(readFileName(name, pattern).about).toMatchObject({ setting: name.includes('flat') ? 'flat' : 'deep' });
  }
});

test('nothing is proposed where no number changes', () => {
  expect(suggestPattern(['one.txt', 'two.txt'])).toBeUndefined();
  expect(suggestPattern(['one 1.txt'])).toBeUndefined();
  expect(suggestPattern([])).toBeUndefined();
});
