import { createRequire } from 'node:module';
import { afterAll, expect, it } from 'vitest';

/** The compiled library: workers only run there. */
const { closeWorkers, fitBand, makeCurve, makeSweep, renderChart } = createRequire(import.meta.url)(
  '../../dist/lib',
) as typeof import('../../lib');
const { drawChart } = createRequire(import.meta.url)('../../dist/lib/report/picture/drawChart.js');
afterAll(() => closeWorkers());

const curve = makeCurve({ frequencyHz: [10, 20, 40, 80, 160], levelDb: [70, 80, 83, 82, 81], about: { device: 'A' } });
const input = { measurements: [curve], findings: { bandFit: [fitBand(curve)] } };

it('a chart drawn in a worker is the one drawn here, as SVG and as PNG, and leaves sounds where they are', async () => {
  const sweep = makeSweep({ startHz: 20, endHz: 200, seconds: 1, sampleRateHz: 8000 });
  const bytes = sweep.wav.length;
  for (const format of ['svg', 'png'] as const) {
    const options = { format, credit: 'us' };
    const there = await renderChart({ ...input, measurements: [curve, sweep] }, options);
    expect(there).toBeInstanceOf(Uint8Array);
    expect(Buffer.compare(there, await drawChart(input, options))).toBe(0);
  }
  expect(sweep.wav.length).toBe(bytes);
});

it('what cannot be drawn is refused with its code', async () => {
  await expect(renderChart({})).rejects.toMatchObject({ code: 'nothing-to-draw' });
  await expect(renderChart(input, { widthPx: 3 })).rejects.toMatchObject({ code: 'bad-option', field: 'widthPx' });
  const stopped = AbortSignal.abort(new Error('enough'));
  await expect(renderChart(input, { signal: stopped })).rejects.toThrow('enough');
});
