import { createRequire } from 'node:module';
import { afterAll, describe, expect, test } from 'vitest';
import { BassloomError, decodeWav, deconvolve, deconvolveCapture, makeRecording, makeSweep, writeWav } from '../../lib';
import { workers } from '../../lib/work/workers';

const require = createRequire(import.meta.url);
const compiled: typeof import('../../lib') = require('../../dist/lib');
afterAll(() => compiled.closeWorkers());

const spec = { startHz: 20, endHz: 200, seconds: 3, sampleRateHz: 8000, levelDbfs: -12 };
const sweep = makeSweep(spec);
const heard = Float64Array.from(decodeWav(sweep).channels[0], (x, i) => 0.5 * x + 1e-4 * Math.sin(i * i));
const wav = writeWav({ sampleRateHz: 8000, channels: [heard] }, { format: 'pcm24' });
const capture = makeRecording(wav, { label: 'run', about: { device: 'a', driveDb: 3 } });
const plain = (value: unknown) => JSON.parse(JSON.stringify(value));

test('run from its sources, the library works in this thread', async () => {
  expect(workers('work')).toBeUndefined();
  const told: number[] = [];
  const found = await deconvolve(capture, sweep, { harmonics: 2, onProgress: (share) => told.push(share) });
  expect(plain(found)).toEqual(plain(deconvolveCapture(capture, sweep, { harmonics: 2 })));
  expect(told.length).toBeGreaterThan(0);
  expect(told).toEqual([...told].sort((a, b) => a - b));
  await expect(deconvolve(capture, sweep, { signal: AbortSignal.abort() })).rejects.toMatchObject({
    name: 'AbortError',
  });
});

describe('in a worker thread', () => {
  test('the result is the same to the last digit, its impulse response a Buffer', async () => {
    for (const stimulus of [sweep, spec]) {
      const found = await compiled.deconvolve(capture, stimulus, { harmonics: 3 });
      expect(plain(found)).toEqual(plain(deconvolveCapture(capture, stimulus, { harmonics: 3 })));
      expect(Buffer.isBuffer(found.impulse.wav)).toBe(true);
    }
  });

  test('the caller keeps the sounds', async () => {
    const before = Buffer.from(wav);
    await Promise.all(Array.from({ length: 3 }, () => compiled.deconvolve(capture, sweep, { noise: capture })));
    expect(before.equals(wav)).toBe(true);
    expect(sweep.wav.byteLength).toBe(sweep.wav.length);
    expect(sweep.wav.length).toBeGreaterThan(1000);
  });

  test('a refusal is that of the library', async () => {
    const wanted = (() => {
      try {
        return deconvolveCapture(capture, sweep, { channel: 7 });
      } catch (problem) {
        return problem as BassloomError;
      }
    })() as BassloomError;
    const problem = await compiled.deconvolve(capture, sweep, { channel: 7 }).catch((thrown) => thrown);
    expect(problem).toBeInstanceOf(compiled.BassloomError);
    expect(wanted).toBeInstanceOf(BassloomError);
    expect({ ...problem, message: problem.message }).toEqual({ ...wanted, message: wanted.message });
  });

  test('progress is told and an abort ends it', async () => {
    const told: number[] = [];
    await compiled.deconvolve(capture, sweep, { onProgress: (share) => told.push(share) });
    expect(told.length).toBeGreaterThan(0);
    for (const share of told) expect(share).toBeGreaterThanOrEqual(0);
    const controller = new AbortController();
    const long = compiled.deconvolve(capture, sweep, { signal: controller.signal });
    controller.abort(new Error('enough'));
    await expect(long).rejects.toThrow('enough');
  });
});
