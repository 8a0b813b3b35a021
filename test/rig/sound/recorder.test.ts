import { describe, expect, test } from 'vitest';
import type { BassloomError } from '../../../lib';
import { demoSoundRig } from '../../../lib/rig/sound/demoSoundRig';
import { playRig } from '../../../lib/rig/sound/playRig';
import type { RecorderSpec, SoundRigSpec } from '../../../lib/rig/sound/soundRigSpec';
import { makeSweep } from '../../../lib/signal/makeSweep';
import { decodeWav } from '../../../lib/wav/decodeWav';
import { levelAt, stimulusOf, toneStimulus } from './tones';

const RATE = 48000;
const spec = { startHz: 5, endHz: 400, seconds: 5, sampleRateHz: RATE };
const sweep = makeSweep(spec);
const run = { setting: 'shelf-flat', driveDb: 0 };
const demo = demoSoundRig();

/** A bench that only delays: free field at a distance, a unit that plays all, no noise. */
function plain(recorder: RecorderSpec = {}, distanceM = 1): SoundRigSpec {
  const unit = {
    ...demo.unit,
    highPass: [{ f0Hz: 0.5, q: 0.5 }] as [{ f0Hz: number; q: number }],
    lowPass: { hz: 1e5, order: 2 as const },
  };
  return {
    seed: 5,
    unit: { ...unit, sensitivityDb: 80, limiter: undefined },
    settings: demo.settings,
    drive: demo.drive,
    grid: demo.grid,
    scatter: { gainDb: 0, shapeDb: 0 },
    distanceM,
    referenceDbfs: 0,
    recorder: { bits: 32, fullScaleDb: 80, ...recorder },
  };
}

const record = (rig: SoundRigSpec, stimulus = sweep, how = run) => {
  const { capture, truth } = playRig(rig, stimulus, how);
  return { capture, truth, samples: decodeWav(capture).channels[0] };
};

const peakOf = (samples: ArrayLike<number>) => Array.from(samples).reduce((most, x) => Math.max(most, Math.abs(x)), 0);

describe('levels', () => {
  test('full scale is a sine of the level it says, 1 / r away', () => {
    // a full-scale tone makes 80 dB at 1 m, 74 dB at 2 m: inverse distance
    const { samples } = record(plain({}, 2), toneStimulus(100, -6, 3));
    expect(levelAt(samples.subarray(RATE, 3 * RATE), RATE, 100).db).toBeCloseTo(-6 - 20 * Math.log10(2), 2);
  });

  test('the input turned up and the file made quieter are in the truth, and in the samples', () => {
    const level = (recorder: RecorderSpec) => {
      const { samples, truth } = record(plain(recorder), toneStimulus(100, -20, 3));
      return levelAt(samples.subarray(RATE, 3 * RATE), RATE, 100).db + truth.fullScaleDb;
    };
    expect(level({ inputGainDb: 9, attenuationDb: 4 })).toBeCloseTo(level({}), 3);
  });
});

describe('time', () => {
  test('direct sound arrives after latency and flight, less the start of the recorder', () => {
    const pulse = stimulusOf(
      Float64Array.from(
        { length: RATE },
        (_, n) => Math.exp(-(((n - 20000) / 100) ** 2)) * Math.cos((2 * Math.PI * 400 * (n - 20000)) / RATE),
      ),
      RATE,
    );
    // 343 m/s: a distance that is 96 samples; then 480 of latency, less 240 of start
    const { samples, truth } = record(plain({ latencyMs: 10, startS: 0.005 }, (343 * 96) / RATE), pulse);
    expect(truth.delayMs).toBeCloseTo(10 + 2 - 5, 9);
    const sent = decodeWav(pulse).channels[0];
    const product = (by: number) => {
      let sum = 0;
      for (let n = 19000; n < 21000; n++) sum += samples[n + 96 + 480 - 240 + by] * sent[n];
      return sum;
    };
    const [before, at, after] = [product(-1), product(0), product(1)];
    expect(Math.abs((before - after) / (before - 2 * at + after) / 2)).toBeLessThan(0.1);
  });

  test('the room lets nothing through before the direct sound, and then does', () => {
    const click = stimulusOf(
      Float64Array.from(
        { length: RATE },
        (_, n) => Math.exp(-(((n - RATE / 4) / 60) ** 2)) * Math.sin((2 * Math.PI * 120 * (n - RATE / 4)) / RATE),
      ),
      RATE,
    );
    const rig = {
      ...demo,
      noise: undefined,
      nonlinearity: undefined,
      soundLimiter: undefined,
      recorder: { bits: 32 as const },
    };
    const { samples, truth } = record(rig, click);
    const [x, y, z] = [3.6 - 0.4, 1.4 - 0.7, 1.1 - 0.3];
    // speed of sound at 21 degrees Celsius: 343.8 m/s (331.3 sqrt(1 + T / 273.15))
    expect(truth.flightMs).toBeCloseTo((1000 * Math.hypot(x, y, z)) / (331.3 * Math.sqrt(1 + 21 / 273.15)), 6);
    // the click has risen to 1e-5 of its peak 204 samples before its middle
    const arrival = Math.round(RATE / 4 - 204 + (truth.flightMs * RATE) / 1000);
    const largest = (from: number, to: number) => peakOf(samples.subarray(from, to));
    const peak = largest(0, RATE);
    expect(largest(0, arrival - 48) / peak).toBeLessThan(3e-4);
    expect(largest(arrival, arrival + 400) / peak).toBeGreaterThan(0.3);
  });

  test('a recorder that starts earlier has silence first, and the same sound after it', () => {
    const early = record(plain({ startS: -1.5 }));
    const onTime = record(plain());
    expect(early.samples.length).toBe(onTime.samples.length + 1.5 * RATE);
    expect(early.truth.delayMs - onTime.truth.delayMs).toBeCloseTo(1500, 6);
    for (const n of [100000, 200000, 250000]) expect(early.samples[n + 1.5 * RATE]).toBeCloseTo(onTime.samples[n], 5);
  });

  test('a recording that starts late or breaks off says which frequency the sweep had reached', () => {
    const { samples, capture, truth } = record(plain({ startS: 2.2, truncateAfterS: 2.7 }));
    expect(capture.seconds).toBeCloseTo(2.7, 6);
    const { missedBelowHz, truncatedAtHz } = truth.sweep(spec);
    // independent: zero crossings at both ends of the recording
    expect(Math.abs(crossingHz(samples.subarray(0, 0.15 * RATE), 0) / missedBelowHz! - 1)).toBeLessThan(0.01);
    expect(Math.abs(crossingHz(samples.subarray(-0.1 * RATE), 0.1) / truncatedAtHz! - 1)).toBeLessThan(0.01);
    expect(record(plain()).truth.sweep(spec)).toEqual({ missedBelowHz: null, truncatedAtHz: null });
  });

  test('a fast clock takes more samples, in which tones are lower', () => {
    const { samples, truth } = record(plain({ clockPpm: 250 }), toneStimulus(200, -6, 20));
    expect(truth.clockPpm).toBe(250);
    // phase advance between two stretches ten seconds apart
    const turn =
      levelAt(samples.subarray(15 * RATE, 16 * RATE), RATE, 200).deg -
      levelAt(samples.subarray(5 * RATE, 6 * RATE), RATE, 200).deg;
    const turns = turn / 360 + (200 * 250e-6 * 10) / (1 + 250e-6);
    expect(Math.abs(turns - Math.round(turns))).toBeLessThan(1e-4);
  });
});

/** Instantaneous frequency at one end of a stretch, from a straight line through the local frequencies between its zero crossings. */
function crossingHz(samples: ArrayLike<number>, atS: number): number {
  const at: number[] = [];
  for (let n = 1; n < samples.length; n++) {
    if (samples[n - 1] < 0 !== samples[n] < 0) at.push((n - samples[n] / (samples[n] - samples[n - 1])) / RATE);
  }
  const local = at.slice(1).map((t, i) => ({ t: (t + at[i]) / 2, log: Math.log(0.5 / (t - at[i])) }));
  const mean = (of: (one: (typeof local)[0]) => number) => local.reduce((sum, one) => sum + of(one), 0) / local.length;
  const [t0, y0] = [mean(({ t }) => t), mean(({ log }) => log)];
  const slope = mean(({ t, log }) => (t - t0) * (log - y0)) / mean(({ t }) => (t - t0) ** 2);
  return Math.exp(y0 + slope * (atS - t0));
}

describe('clipping', () => {
  test.each([16, 24, 32] as const)('is counted exactly, %s bits', (bits) => {
    const { samples, truth } = record(plain({ bits, inputGainDb: 16 }));
    const [low, high] = [-1, bits === 32 ? 1 : 1 - 2 ** (1 - bits)];
    const at = Array.from(samples.keys()).filter((n) => samples[n] <= low || samples[n] >= high);
    expect(at.length).toBeGreaterThan(1000);
    expect(truth.clippedSamples).toBe(at.length);
    expect(truth.clippedAtIndex).toBe(at[0]);
  });

  test('is still counted in a recording that was made quieter', () => {
    const loud = record(plain({ bits: 24, inputGainDb: 16 }));
    const quiet = record(plain({ bits: 24, inputGainDb: 16, attenuationDb: 7.3 }));
    expect(quiet.truth.clippedSamples).toBe(loud.truth.clippedSamples);
    const peak = peakOf(quiet.samples);
    expect(20 * Math.log10(peak)).toBeCloseTo(-7.3, 4);
  });

  test('may come before full scale, and does not come where nothing is too loud', () => {
    const { samples, truth } = record(plain({ bits: 24, inputGainDb: 16, railDbfs: -3 }));
    const peak = peakOf(samples);
    expect(20 * Math.log10(peak)).toBeCloseTo(-3, 4);
    expect(truth.clippedSamples).toBe(samples.filter((x) => Math.abs(x) >= peak).length);
    expect(record(plain({ bits: 24 })).truth).toMatchObject({ clippedSamples: 0, clippedAtIndex: null });
  });
});

describe('the file', () => {
  test('has the rate, bits and channels asked for; the others are silent', () => {
    const { capture } = record(plain({ sampleRateHz: 44100, bits: 16, channels: 2 }));
    expect(capture).toMatchObject({ sampleRateHz: 44100, channels: 2, role: 'capture' });
    expect(capture.about).toMatchObject({ device: demo.unit.device, setting: 'shelf-flat', driveDb: 0, distanceM: 1 });
    const [first, second] = decodeWav(capture).channels;
    expect(first.some((x) => x !== 0)).toBe(true);
    expect(second.every((x) => x === 0)).toBe(true);
  });

  test('is the same for the same run, and other noise for another take or stimulus', () => {
    const id = (how = {}, stimulus = sweep) => playRig(demo, stimulus, { ...run, ...how }).capture.id;
    expect(id()).toBe(id());
    expect(
      new Set([id(), id({ take: 1 }), id({ driveDb: 3 }), id({}, makeSweep({ ...spec, levelDbfs: -13 }))]).size,
    ).toBe(4);
  });
});

test.each([
  ['a switch position that is not there', demo, { ...run, setting: 'none' }, 'unknown-setting'],
  ['a strange number of bits', plain({ bits: 20 as 16 }), run, 'recorder-option'],
  ['a start after the end', plain({ startS: 60 }), run, 'recorder-option'],
  ['a rail above full scale', plain({ railDbfs: 3 }), run, 'recorder-option'],
  ['a sample rate that would fold', plain({ sampleRateHz: 2000 }), run, 'recorder-option'],
  ['a recording of an hour', plain({ tailS: 3600 }), run, 'rig-too-long'],
])('%s is refused', (_what, rig, how, code) => {
  expect(() => playRig(rig, sweep, how)).toThrow(expect.objectContaining({ code }) as BassloomError);
});
