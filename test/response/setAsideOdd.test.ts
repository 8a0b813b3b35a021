import { expect, test } from 'vitest';
import { makeCurve, setAsideOdd } from '../../lib';
import type { Curve } from '../../lib/model/curve';

const run = (driveDb: number | undefined, lowHz = 10, highHz = 200, more: Partial<Curve> = {}): Curve => {
  const count = Math.max(2, Math.round(24 * Math.log2(highHz / lowHz)) + 1);
  const frequencyHz = Array.from({ length: count }, (_, i) => lowHz * (highHz / lowHz) ** (i / (count - 1)));
  const levelDb = frequencyHz.map(() => 80 + (driveDb ?? 0));
  return makeCurve({ frequencyHz, levelDb, about: { driveDb }, label: `${driveDb}`, ...more });
};
const good = [0, 3, 6, 9].map((driveDb) => run(driveDb));

test.each([
  ['another scale', run(12, 10, 200, { scale: 'spl' }), 'scale'],
  ['no drive', run(undefined), 'drive'],
  ['another range', run(12, 1000, 20000), 'range'],
  ['two points', run(12, 10, 10.2), 'range'],
  ['a tenth of an octave', run(12, 100, 107), 'range'],
])('a run with %s is set aside, wherever it stands', (_what, odd, why) => {
  for (const runs of [
    [odd, ...good],
    [...good.slice(0, 2), odd, ...good.slice(2)],
  ]) {
    expect(setAsideOdd(runs)).toEqual({ kept: good, aside: [{ run: odd, why }] });
  }
});

test('runs that reach less far than others, on other grids, or twice at one drive, are kept', () => {
  const runs = [...good, run(9), run(12, 20, 120), run(15, 5, 400)];
  expect(setAsideOdd(runs)).toEqual({ kept: runs, aside: [] });
});

test('few points are enough where all have few, a narrow range where all are narrow', () => {
  const coarse = [0, 3, 6].map((driveDb) =>
    makeCurve({ frequencyHz: [20, 40, 80], levelDb: [80, 80, 80], about: { driveDb } }),
  );
  expect(setAsideOdd(coarse).kept).toEqual(coarse);
  const narrow = [0, 3, 6].map((driveDb) => run(driveDb, 30, 40));
  expect(setAsideOdd(narrow).kept).toEqual(narrow);
  const pair = [run(undefined), run(undefined)];
  expect(setAsideOdd(pair).kept).toEqual(pair);
});

test('a single run is never odd', () => {
  const one = [run(undefined, 10, 10.1)];
  expect(setAsideOdd(one)).toEqual({ kept: one, aside: [] });
});
