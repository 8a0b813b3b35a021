import { createRequire } from 'node:module';
import { afterAll, describe, expect, it } from 'vitest';
import { makeBursts, makeMutedSweep, makeSweep } from '../../lib';

/** The compiled library: workers only run there. */
const { renderSweep, renderBursts, closeWorkers } = createRequire(import.meta.url)(
  '../../dist/lib',
) as typeof import('../../lib');
afterAll(() => closeWorkers());

const spec = { startHz: 10, endHz: 300, seconds: 2, sampleRateHz: 44100 };

describe('stimuli made in a worker', () => {
  it('are byte for byte those made here', async () => {
    const [sweep, twin] = await renderSweep(spec, { format: 'pcm16', muted: true });
    expect(sweep).toEqual(makeSweep(spec, { format: 'pcm16' }));
    expect(twin).toEqual(makeMutedSweep(spec, { format: 'pcm16' }));
    expect(Buffer.isBuffer(sweep.wav)).toBe(true);
    expect(await renderSweep(spec)).toHaveLength(1);
    const bursts = { sampleRateHz: 8000, fromHz: 40, toHz: 50 };
    expect(await renderBursts(bursts, { format: 'float32' })).toEqual(makeBursts(bursts, { format: 'float32' }));
  });

  it('are refused with the code and field that the maker gives', async () => {
    await expect(renderSweep({ ...spec, endHz: 5 })).rejects.toMatchObject({ code: 'sweep-range', field: 'endHz' });
    await expect(renderBursts({ sampleRateHz: 8000, fromHz: 50, toHz: 20 })).rejects.toMatchObject({
      code: 'burst-range',
    });
  });

  it('can be stopped', async () => {
    const stop = new AbortController();
    const long = renderSweep({ ...spec, seconds: 300, sampleRateHz: 96000 }, { signal: stop.signal });
    setTimeout(() => stop.abort(new Error('enough')), 50);
    await expect(long).rejects.toThrow('enough');
  });
});
