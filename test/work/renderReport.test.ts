import { createRequire } from 'node:module';
import { afterAll, expect, it } from 'vitest';
import type { Caveat } from '../../lib/model/caveat';

/** The compiled library: workers only run there. */
const { buildReport, closeWorkers, makeCurve, makeSweep, renderReport } = createRequire(import.meta.url)(
  '../../dist/lib',
) as typeof import('../../lib');
afterAll(() => closeWorkers());

it('a report written in a worker is the one written here, and leaves sounds where they are', async () => {
  const curve = makeCurve({ frequencyHz: [20, 40, 80], levelDb: [80, 83, 82], about: { device: 'A' } });
  const sweep = makeSweep({ startHz: 20, endHz: 200, seconds: 1, sampleRateHz: 8000 });
  const bytes = sweep.wav.length;
  const note: Caveat = { code: 'some', severity: 'remark', values: {}, message: 'A note.' };
  const input = { topic: 'A', measurements: [curve, sweep], findings: { notes: [note] } };
  expect(await renderReport(input)).toEqual(buildReport(input));
  expect(sweep.wav.length).toBe(bytes);
});
