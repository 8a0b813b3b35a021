import { expect, test } from 'vitest';
import { makeCurve } from '../../lib';
import type { Curve } from '../../lib/model/curve';
import { sparing, unshared } from '../../nodes/collect/sparing';

const grid = [20, 40, 80];
const curve = (levelDb: number[], frequencyHz = [...grid]) =>
  makeCurve({ frequencyHz, levelDb, phaseDeg: [1, 2, 3], noiseDb: [4, 5, 6], label: 'one' });

test('curves on one grid share its frequencies, and are the same curves', () => {
  const spare = sparing();
  const given = [curve([1, 2, 3]), curve([4, 5, 6]), curve([1, 2, 3], [20, 40, 81])];
  const kept = given.map(spare) as Curve[];
  expect(kept).toEqual(given);
  expect(kept[0].frequencyHz).toBe(kept[1].frequencyHz);
  expect(kept[0].frequencyHz).not.toBe(kept[2].frequencyHz);
  expect(kept[0].frequencyHz).not.toBe(given[0].frequencyHz);
});

test('who changes the frequencies of one that was passed on changes no other', () => {
  const spare = sparing();
  const [a, b] = [curve([1, 2, 3]), curve([4, 5, 6])].map((one) => unshared(spare(one))) as Curve[];
  a.frequencyHz[0] = 1;
  expect(b.frequencyHz).toEqual(grid);
});

test('many grids are not remembered for ever, and none is mixed up', () => {
  const spare = sparing();
  const given = Array.from({ length: 40 }, (_, k) => curve([1, 2, 3], [20, 40, 100 + k]));
  expect([...given, ...given].map(spare)).toEqual([...given, ...given]);
});
