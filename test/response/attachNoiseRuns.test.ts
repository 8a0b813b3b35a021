import { expect, test } from 'vitest';
import { attachNoise, attachNoiseRuns, averageCurves, type Curve, makeCurve } from '../../lib';

const frequencyHz = Array.from({ length: 49 }, (_, i) => 10 * 2 ** (i / 12));
const flat = (levelDb: number, more: Partial<Curve>) =>
  makeCurve({ frequencyHz, levelDb: frequencyHz.map(() => levelDb), label: `${levelDb}`, ...more });
const of = (device: string) => flat(80, { about: { device } });

test('a response takes the noise run of its unit, else the one that names no unit', () => {
  const own = flat(40, { role: 'noise', about: { device: 'a' } });
  const common = flat(30, { role: 'noise' });
  const [a, b, ...rest] = attachNoiseRuns([of('a'), of('b'), own, common]);
  expect(a).toEqual(attachNoise(of('a'), own));
  expect(b).toEqual(attachNoise(of('b'), common));
  expect(rest).toEqual([own, common]);
});

test('several noise runs are power-averaged', () => {
  const runs = [flat(30, { role: 'noise' }), flat(40, { role: 'noise' })];
  const [response] = attachNoiseRuns([of('a'), ...runs]) as Curve[];
  expect(response).toEqual(attachNoise(of('a'), averageCurves(runs)));
  // 10 lg ((10^3 + 10^4) / 2)
  expect(response.noiseDb?.[24]).toBeCloseTo(10 * Math.log10(5500), 6);
});

test('noise that came with a response stays, and without noise runs nothing changes', () => {
  const brought = flat(80, { noiseDb: frequencyHz.map(() => 10) });
  const foreign = flat(40, { role: 'noise', about: { device: 'b' } });
  const session = [brought, of('a'), foreign];
  expect(attachNoiseRuns(session)).toEqual(session);
});

test('a noise run on another scale is refused', () => {
  expect(() => attachNoiseRuns([of('a'), flat(40, { role: 'noise', scale: 'spl' })])).toThrow(/scale/);
});

test('a response takes the noise run that is like it; where none is, it goes without and is told of', () => {
  const [relative, spl] = [flat(40, { role: 'noise' }), flat(70, { role: 'noise', scale: 'spl' })];
  const loud = flat(110, { scale: 'spl' });
  const told: Curve[] = [];
  const tell = (response: Curve) => told.push(response);
  expect(attachNoiseRuns([of('a'), loud, relative, spl], tell).slice(0, 2)).toEqual([
    attachNoise(of('a'), relative),
    attachNoise(loud, spl),
  ]);
  expect(told).toEqual([]);
  expect(attachNoiseRuns([of('a'), loud, relative], tell)[1]).toEqual(loud);
  expect(told).toEqual([loud]);
});
