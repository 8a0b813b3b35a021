import { describe, expect, test } from 'vitest';
import { demoSoundRig } from '../../../lib/rig/sound/demoSoundRig';
import { drawSoundRig } from '../../../lib/rig/sound/drawSoundRig';
import { playRig } from '../../../lib/rig/sound/playRig';
import type { SoundRigSpec } from '../../../lib/rig/sound/soundRigSpec';
import type { ToneTruth } from '../../../lib/rig/sound/toneTruth';
import { decodeWav } from '../../../lib/wav/decodeWav';
import { levelAt, toneStimulus } from './tones';

const SECONDS = 8;
const RATE = 48000;

/** Play a tone, wait until everything has settled, and measure it by Fourier. */
function measured(
  rig: SoundRigSpec,
  run: { setting: string; driveDb: number },
  hz: number,
  levelDbfs = -12,
  rate = RATE,
) {
  const { capture, truth } = playRig(rig, toneStimulus(hz, levelDbfs, SECONDS, rate), run);
  const samples = decodeWav(capture).channels[0].subarray(5 * capture.sampleRateHz, 8 * capture.sampleRateHz);
  // what is sampled faster by some ppm is that much lower
  const at = (order: number) => levelAt(samples, capture.sampleRateHz, (hz * order) / (1 + truth.clockPpm * 1e-6));
  const first = at(1);
  const harmonicDb = (order: number) => at(order).db - first.db;
  const startS = 5 - 0.5 - truth.latencyMs / 1000;
  return { ...first, harmonicDb, startS, truth: truth.tone([hz]) };
}

const thdPercent = (harmonicDb: (order: number) => number) =>
  100 * Math.sqrt([2, 3, 4, 5].reduce((sum, order) => sum + 10 ** (harmonicDb(order) / 10), 0));

const demo: SoundRigSpec = { ...demoSoundRig(), noise: undefined };
const plain: SoundRigSpec = { ...demo, recorder: { ...demo.recorder, bits: 32 } };

describe('a steady tone', () => {
  test.each([6, 15, 24.7, 40, 63, 120, 250, 390])(
    'is received as the closed form says, %s Hz, unlimited: level, phase, harmonics, THD',
    (hz) => {
      const { db, deg, startS, harmonicDb, truth } = measured(
        { ...plain, soundLimiter: undefined },
        { setting: 'shelf-lifted', driveDb: 9 },
        hz,
      );
      expect(db).toBeCloseTo(truth.levelDbfs[0], 2);
      const turned = (deg - truth.phaseDeg[0] - 360 * hz * startS) / 360;
      expect(Math.abs(turned - Math.round(turned)) * 360).toBeLessThan(0.02);
      for (const { order, levelDb } of truth.harmonics) {
        if (levelDb[0] > -120) expect(Math.abs(harmonicDb(order) - levelDb[0])).toBeLessThan(0.01);
      }
      expect(thdPercent(harmonicDb)).toBeCloseTo(truth.thdPercent[0], 2);
    },
  );

  test.each([
    [11, 27],
    [20, 27],
    [31.5, 30],
    [50, 27],
    [90, 30],
  ])('is held back by the limiter as its static curve says: %s Hz, drive %s dB', (hz, driveDb) => {
    const { db, harmonicDb, truth } = measured(plain, { setting: 'shelf-flat', driveDb }, hz);
    expect(truth.limiterLossDb[0]).toBeGreaterThan(1);
    expect(Math.abs(db - truth.levelDbfs[0])).toBeLessThan(0.01);
    for (const { order, levelDb } of truth.harmonics.slice(0, 2)) {
      // the tone's beginning still ripples a little in the limiter's detector
      expect(Math.abs(harmonicDb(order) - levelDb[0])).toBeLessThan(0.1);
    }
  });

  test.each(Array.from({ length: 12 }, (_, seed) => seed + 1))(
    'is received as the truth says, drawn rig %s',
    (seed) => {
      const rig = drawSoundRig(seed, { noise: undefined });
      const setting = rig.settings[seed % 2].name;
      const driveDb = (rig.drive.rungs - 1 - (seed % 3) * 3) * rig.drive.commandedStepDb;
      const rate = [48000, 44100, 96000][seed % 3];
      const hz = [18, 31, 47, 77][seed % 4];
      const { db, harmonicDb, truth } = measured(rig, { setting, driveDb }, hz, -12, rate);
      expect(Math.abs(db - truth.levelDbfs[0])).toBeLessThan(0.01);
      expect(Math.abs(harmonicDb(2) - truth.harmonics[0].levelDb[0])).toBeLessThan(0.1);
      expect(Math.abs(harmonicDb(3) - truth.harmonics[1].levelDb[0])).toBeLessThan(0.1);
    },
  );

  test('loses or gains nothing below 1 kHz on the way to any sample rate', () => {
    for (const sampleRateHz of [44100, 48000, 96000]) {
      const unit = { ...plain.unit, lowPass: { hz: 4000, order: 2 as const } };
      const rig: SoundRigSpec = {
        ...plain,
        unit,
        nonlinearity: undefined,
        soundLimiter: undefined,
        recorder: { sampleRateHz, bits: 32, clockPpm: 87 },
      };
      for (const hz of [20, 330, 990]) {
        const { db, truth } = measured(rig, { setting: 'shelf-flat', driveDb: 0 }, hz);
        expect(Math.abs(db - truth.levelDbfs[0])).toBeLessThan(0.001);
      }
    }
  });
});

describe('harmonics', () => {
  const at20 = (driveDb: number): ToneTruth =>
    measured({ ...plain, soundLimiter: undefined }, { setting: 'shelf-flat', driveDb }, 20).truth;

  test('of order n rise by n - 1 dB for each dB of drive, far below the limit', () => {
    // closed form of powers: e^n
    const step = at20(-9).harmonics.map((h, i) => h.levelDb[0] - at20(-12).harmonics[i].levelDb[0]);
    for (const [i, db] of step.entries()) expect(db / 2.95).toBeCloseTo(i + 1, 1);
  });

  test('are strongest at low frequencies, and there are even and odd ones', () => {
    const { truth } = playRig(plain, toneStimulus(40, -12, 1), { setting: 'shelf-flat', driveDb: 12 });
    const free = playRig({ ...plain, room: undefined }, toneStimulus(40, -12, 1), {
      setting: 'shelf-flat',
      driveDb: 12,
    }).truth;
    const { thdPercent, harmonics } = free.tone([10, 16, 25, 40, 63, 100]);
    for (let i = 1; i < thdPercent.length; i++) expect(thdPercent[i]).toBeLessThan(thdPercent[i - 1]);
    expect(harmonics.map(({ order }) => order)).toEqual([2, 3, 4, 5]);
    expect(truth.tone([20], { highestOrder: 9 }).harmonics.at(-1)).toMatchObject({ order: 9 });
  });

  test('of a known polynomial are those of the powers of a cosine', () => {
    // cos^2 = (1 + cos 2x)/2, cos^3 = (3 cos x + cos 3x)/4, the octave raises a double derivative by 4 and 9
    const unit = {
      ...plain.unit,
      highPass: [{ f0Hz: 25, q: 0.7 }] as [{ f0Hz: number; q: number }],
      lowPass: { hz: 1e6, order: 2 as const },
    };
    const rig: SoundRigSpec = {
      ...plain,
      unit: { ...unit, sensitivityDb: 90 },
      referenceDbfs: 0,
      room: undefined,
      microphone: undefined,
      soundLimiter: undefined,
      scatter: { gainDb: 0, shapeDb: 0 },
      nonlinearity: { excursionAt20HzDb: 90 + 40 * Math.log10(20 / 25), coefficients: [0.1, 0.2] },
    };
    // at 2.5 Hz the excursion of a full-scale tone is 1 / |1 - 0.01 + j 0.1 / 0.7| of the limit
    const a = 1 / Math.hypot(0.99, 0.1 / 0.7);
    const { truth } = playRig(rig, toneStimulus(20, 0, 1), { setting: 'shelf-flat', driveDb: 0 });
    const [second, third] = truth.tone([2.5], { toneDbfs: 0 }).harmonics;
    const first = a + 0.75 * 0.2 * a ** 3;
    expect(second.levelDb[0]).toBeCloseTo(20 * Math.log10((4 * 0.1 * a ** 2) / 2 / first), 6);
    expect(third.levelDb[0]).toBeCloseTo(20 * Math.log10((9 * 0.2 * a ** 3) / 4 / first), 6);
  });
});

test('without nonlinearity and limiter the rig is linear: harmonics nowhere, 30 dB more are 30 dB more', () => {
  const rig: SoundRigSpec = {
    ...plain,
    nonlinearity: undefined,
    soundLimiter: undefined,
    scatter: { gainDb: 0, shapeDb: 0 },
  };
  const quiet = measured(rig, { setting: 'shelf-flat', driveDb: 0 }, 25);
  const loud = measured(rig, { setting: 'shelf-flat', driveDb: 30 }, 25);
  expect(loud.db - quiet.db).toBeCloseTo(29.5, 4);
  expect(loud.harmonicDb(2)).toBeLessThan(-110);
  expect(loud.harmonicDb(3)).toBeLessThan(-110);
  expect(loud.truth.thdPercent[0]).toBe(0);
});
