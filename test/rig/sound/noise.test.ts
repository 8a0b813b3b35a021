import { describe, expect, test } from 'vitest';
import { decodeWav } from '../../../lib/import/decodeWav';
import { demoSoundRig } from '../../../lib/rig/sound/demoSoundRig';
import { playRig } from '../../../lib/rig/sound/playRig';
import type { SoundRigSpec } from '../../../lib/rig/sound/soundRigSpec';
import { nextFastLength, realFft } from '../../../lib/signal/fourier';
import { makeMutedSweep } from '../../../lib/signal/makeSweep';
import { levelAt, stimulusOf } from './tones';

const RATE = 48000;
const muted = makeMutedSweep({ startHz: 5, endHz: 400, seconds: 20, sampleRateHz: RATE });
const run = { setting: 'shelf-flat', driveDb: 0 };
const demo = demoSoundRig();

/** Power of some samples between two frequencies, dB re a full-scale sine: Parseval over the bins of one long transform. */
function bandDb(samples: Float64Array, lowHz: number, highHz: number): number {
  const length = nextFastLength(samples.length);
  const bins = realFft(samples, length);
  let sum = 0;
  for (let k = Math.ceil((lowHz * length) / RATE); k <= (highHz * length) / RATE; k++)
    sum += bins[2 * k] ** 2 + bins[2 * k + 1] ** 2;
  // both halves of the spectrum; a sine of peak 1 has a mean square of 1/2
  return 10 * Math.log10((2 * 2 * sum) / (length * samples.length));
}

describe('the noise of a muted run', () => {
  const { capture, truth } = playRig(demo, muted, run);
  const samples = Float64Array.from(decodeWav(capture).channels[0]);

  test('has the level of the truth in every third octave', () => {
    const { bandsHz, levelDb } = truth.noise!;
    const hum = truth.hum.map(({ frequencyHz }) => frequencyHz);
    bandsHz.forEach((centre, i) => {
      const [low, high] = [centre * 10 ** -0.05, centre * 10 ** 0.05];
      if (hum.some((hz) => hz > 0.9 * low && hz < 1.1 * high)) return;
      // 2 B T degrees of freedom: standard deviation of 10 lg of a chi-squared mean
      const deviation = 4.34 / Math.sqrt((high - low) * capture.seconds);
      expect(Math.abs(bandDb(samples, low, high) - levelDb[i])).toBeLessThan(4 * deviation);
    });
  });

  test('falls by the slope that it is given', () => {
    // a density of -7 dB per octave is -4 dB per octave in bands of constant relative width; the microphone rolls off below 4 Hz
    const flat: SoundRigSpec = { ...demo, microphone: undefined };
    const { levelDb, bandsHz } = playRig(flat, muted, run).truth.noise!;
    const slope = (levelDb.at(-1)! - levelDb[0]) / Math.log2(bandsHz.at(-1)! / bandsHz[0]);
    expect(slope).toBeCloseTo(-7 + 10 * Math.log10(2), 6);
    const at20 = levelDb[bandsHz.findIndex((hz) => Math.abs(hz - 20) < 0.5)] + 125;
    // 54 dB per hertz over the 4.6 Hz of the band at 20 Hz
    expect(at20).toBeCloseTo(54 + 10 * Math.log10(19.95 * (10 ** 0.05 - 10 ** -0.05)), 1);
  });

  test('is called noise, of no setting, and has no tone', () => {
    expect(capture.label).toContain('noise');
    expect(capture.about).toMatchObject({ device: 'Marrowby-12' });
    expect(capture.about.driveDb).toBeUndefined();
    expect(truth.toneDbfs).toBeNull();
  });
});

test('hum has the level of the truth, also the lines that the recorder picks up', () => {
  const rig: SoundRigSpec = {
    ...demo,
    noise: { ...demo.noise!, hum: { hz: 50, db: 30 } },
    recorder: { ...demo.recorder, hum: [{ frequencyHz: 150, levelDb: -60 }], inputGainDb: 6 },
  };
  const { capture, truth } = playRig(rig, muted, run);
  const samples = decodeWav(capture).channels[0];
  expect(truth.hum.map(({ frequencyHz }) => frequencyHz)).toEqual([50, 100, 150]);
  expect(truth.hum[2].levelDb).toBe(-54);
  for (const { frequencyHz, levelDb } of truth.hum) {
    expect(Math.abs(levelAt(samples.subarray(RATE), RATE, frequencyHz).db - levelDb)).toBeLessThan(0.3);
  }
});

test('without noise a muted run is digital silence', () => {
  const { capture, truth } = playRig({ ...demo, noise: undefined }, muted, run);
  expect(decodeWav(capture).channels[0].every((x) => x === 0)).toBe(true);
  expect(truth.noise).toBeNull();
});

describe('the limiter', () => {
  const limited: SoundRigSpec = {
    ...demo,
    room: undefined,
    microphone: undefined,
    noise: undefined,
    nonlinearity: undefined,
    scatter: { gainDb: 0, shapeDb: 0 },
    unit: { ...demo.unit, highPass: [{ f0Hz: 10, q: 0.5 }], lowPass: { hz: 2000, order: 2 }, sensitivityDb: 90 },
    referenceDbfs: 0,
    soundLimiter: { crossoverHz: 20, top: { amplifierDb: 80, kneeDb: 0.1, attackS: 0.08, releaseS: 0.3 } },
    recorder: { bits: 32, fullScaleDb: 90 },
  };
  const HZ = 200;
  // quiet (below the ceiling by 4 dB), loud (above it by 10 dB) from 1 s to 3 s, quiet again
  const steps = stimulusOf(
    Float64Array.from({ length: 5 * RATE }, (_, n) => {
      const t = n / RATE;
      return 10 ** ((t >= 1 && t < 3 ? 0 : -14) / 20) * Math.sin(2 * Math.PI * HZ * t);
    }),
    RATE,
  );
  const { capture, truth } = playRig(limited, steps, run);
  const samples = decodeWav(capture).channels[0];
  // level over four periods, in which the loss is a straight line enough
  const levelAround = (t: number) => {
    const middle = Math.round((t + truth.delayMs / 1000) * RATE);
    return levelAt(samples.subarray(middle - 480, middle + 480), RATE, HZ).db;
  };
  const settled = levelAround(2.9);

  test('settles at its ceiling', () => {
    expect(settled).toBeCloseTo(truth.tone([HZ], { toneDbfs: 0 }).levelDbfs[0], 2);
    expect(levelAround(0.9)).toBeCloseTo(truth.tone([HZ], { toneDbfs: -14 }).levelDbfs[0], 2);
    expect(truth.tone([HZ], { toneDbfs: 0 }).limiterLossDb[0]).toBeCloseTo(10, 6);
  });

  test.each([0.03, 0.08, 0.16, 0.3])('takes hold by one pole of its attack: %s s after the rise', (t) => {
    expect(levelAround(1 + t) - settled).toBeCloseTo(10 * Math.exp(-t / 0.08), 1);
  });

  test.each([0.1, 0.3, 0.6, 1])('lets go by one pole of its release: %s s after the fall', (t) => {
    expect(levelAround(0.9) - levelAround(3 + t)).toBeCloseTo(10 * Math.exp(-t / 0.3), 1);
  });

  test('guards the bottom and leaves the top alone, and the other way round', () => {
    const guarded: SoundRigSpec = {
      ...limited,
      soundLimiter: { crossoverHz: 45, bottom: { excursionAt20HzDb: 70, kneeDb: 2, attackS: 0.01, releaseS: 0.1 } },
    };
    const tone = playRig(guarded, steps, run).truth.tone([10, 15, 20, 60, 120], { toneDbfs: 0 });
    expect(tone.limiterLossDb.slice(0, 3).every((loss) => loss > 10)).toBe(true);
    expect(tone.limiterLossDb[4]).toBeLessThan(0.05);
    // below resonance the excursion stays the same, so at 20 Hz the level is the ceiling itself
    expect(tone.splDb[2]).toBeCloseTo(70, 0);
  });
});
