import { describe, expect, it } from 'vitest';
import { makeMutedSweep, makeSweep } from '../../lib/signal/makeSweep';
import { planSweep } from '../../lib/signal/sweepPlan';
import { sweepSamples } from '../../lib/signal/sweepSamples';
import { decodeWav } from '../../lib/wav/decodeWav';

const spec = { startHz: 8, endHz: 300, seconds: 3, sampleRateHz: 8000, levelDbfs: -6 };

describe('the sweep as a recording', () => {
  it.each([
    ['pcm16' as const, 2 ** -16],
    ['pcm24' as const, 2 ** -24],
    ['float64' as const, 0],
  ])('holds the samples of the sweep to half a step in %s', (format, most) => {
    const recording = makeSweep(spec, { format });
    const [channel] = decodeWav(recording.wav).channels;
    const wanted = sweepSamples(planSweep(spec));
    expect(channel).toHaveLength(wanted.length);
    const worst = wanted.reduce((sofar, value, n) => Math.max(sofar, Math.abs(channel[n] - value)), 0);
    expect(worst).toBeLessThanOrEqual(most);
    expect(recording).toMatchObject({ kind: 'recording', role: 'stimulus', sampleRateHz: 8000, channels: 1 });
    expect(recording.seconds).toBeCloseTo(wanted.length / 8000, 9);
  });

  it('says what it is and warns, in its step and in the file', () => {
    const recording = makeSweep({ ...spec, levelDbfs: undefined });
    expect(recording.label).toBe('sweep 8-300 Hz, -15 dBFS');
    expect(recording.steps).toMatchObject([{ did: 'make sweep', with: { startHz: 8, endHz: 300, levelDbfs: -15 } }]);
    expect(Buffer.from(recording.wav).toString('latin1')).toMatch(/Start at a low volume/);
  });

  it('is the same sweep each time, and another at another level', () => {
    expect(makeSweep(spec).id).toBe(makeSweep(spec).id);
    expect(makeSweep(spec).id).not.toBe(makeSweep({ ...spec, levelDbfs: -9 }).id);
  });

  it('fills full scale without going over it', () => {
    expect(makeSweep({ ...spec, levelDbfs: 0 }, { format: 'pcm16' }).channels).toBe(1);
  });

  it('has a muted twin as long', () => {
    const twin = makeMutedSweep(spec);
    expect(twin.seconds).toBe(makeSweep(spec).seconds);
    expect(decodeWav(twin.wav).channels[0].every((x) => x === 0)).toBe(true);
  });

  it('refuses what planSweep refuses', () => {
    expect(() => makeSweep({ ...spec, endHz: 5000 })).toThrow(expect.objectContaining({ code: 'sweep-range' }));
  });
});
