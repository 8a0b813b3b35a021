import { createRequire } from 'node:module';
import { expect, test } from 'vitest';
import * as lib from '../../lib';
import { makeCurve } from '../../lib';

const require = createRequire(import.meta.url);
const { unitOfNoise } = require('../../dist/nodes/import/whatIsKnown.js');
const { hold, heldOf, unitsOf } = require('../../dist/nodes/collect/session.js');
const pattern = '{device}_{setting}_step-{step}';

test.each([
  ['noise.txt', pattern, undefined],
  ['noise_2.txt', pattern, undefined],
  ['muted.wav', pattern, undefined],
  ['Box 7_noise.txt', pattern, 'Box 7'],
  ['Box 7_flat_muted.wav', pattern, 'Box 7'],
  ['Box 7/noise.txt', pattern, 'Box 7'],
  ['Box 7/flat/noise.txt', '{device}/{setting}/{step}', undefined],
  ['Box 7 noise.txt', '{driveDb}dB {device}, {setting}', undefined],
  ['Box 7_noise.txt', undefined, undefined],
])('the noise run %s, by the pattern %s, is of unit %s', (path, namePattern, unit) => {
  expect(unitOfNoise(lib, path, namePattern)).toBe(unit);
});

const held = (file: string, unit: string | null, role: 'response' | 'noise') => ({
  ...{ unit, file, notes: [], quality: [] },
  measurement: makeCurve({
    ...{ frequencyHz: [10, 20], levelDb: [80, 80 + file.length], label: file, role },
    about: unit === null ? {} : { device: unit },
  }),
});
const filesOf = (store: unknown, unit: string) => heldOf(store, unit).map(({ file }: { file: string }) => file);

test('noise of a unit speaks for it alone, of no unit or of what is none for all, whichever came first', () => {
  const empty = { held: [], waiting: [] };
  const runs = [held('a', 'A', 'response'), held('b', 'B', 'response')];
  const noise = [held('A_noise', 'A', 'noise'), held('noise', null, 'noise'), held('room_noise', 'room', 'noise')];
  for (const order of [
    [runs, noise],
    [noise, runs],
  ]) {
    const store = hold(hold(empty, order[0]), order[1]);
    expect(unitsOf(store)).toEqual(['A', 'B']);
    expect(filesOf(store, 'A').sort()).toEqual(['A_noise', 'a', 'noise', 'room_noise'].sort());
    expect(filesOf(store, 'B').sort()).toEqual(['b', 'noise', 'room_noise'].sort());
    const lone = heldOf(store, 'B').find(({ file }: { file: string }) => file === 'room_noise');
    expect([lone.unit, lone.measurement.about.device]).toEqual([null, undefined]);
  }
  const settled = { ...hold(empty, runs), waiting: [] };
  expect(hold(settled, [noise[0]]).waiting).toEqual(['A']);
  expect(hold(settled, [noise[1]]).waiting).toEqual(['A', 'B']);
  expect(hold(settled, [noise[2]]).waiting).toEqual(['A', 'B']);
});
