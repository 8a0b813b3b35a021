import { createRequire } from 'node:module';
import { expect, test } from 'vitest';
import * as lib from '../../lib';

const require = createRequire(import.meta.url);
const { hintAtPattern } = require('../../dist/nodes/import/hintAtPattern.js');
const namePattern = '{device}_{setting}_step-{step}';

test('names that follow another pattern are told with that one, and a name that would do', () => {
  const names = ['flat', 'deep'].flatMap((what) => [0, 3].map((db) => `Box 7 ${what} +${db}dB.txt`));
  const { code, message } = hintAtPattern(lib, [...names, 'readme.txt'], { namePattern, stepDb: 3 });
  expect(code).toBe('name-mismatch');
  expect(message).toContain(`5 files, such as ${names[0]}, do not follow the pattern ${namePattern}`);
  expect(message).toContain('The pattern {device} {setting} {driveDb}dB reads 4 of them');
  const [, example] = /A name that does: (.*?)\. /.exec(message) ?? [];
  expect(lib.readFileName(example, namePattern).matches).toBe(true);
});

test.each([namePattern, '{driveDb}dB {device}, {position}', '{device}/{takenAt} {distanceM}m {*}_{procedure}'])(
  'the name that is given for %s follows it',
  (pattern) => {
    const { message } = hintAtPattern(lib, ['stray.txt'], { namePattern: pattern, stepDb: 3 });
    expect(message).toMatch(/^stray\.txt does not follow/);
    expect(message).toContain('Rename them, or write a pattern');
    const [, example] = /A name that does: (.*?)\. Rename/.exec(message) ?? [];
    const { matches, notes } = lib.readFileName(example, pattern);
    expect([matches, notes]).toEqual([true, []]);
  },
);
