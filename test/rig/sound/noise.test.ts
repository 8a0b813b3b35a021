import { describe, expect, test } from 'vitest';
import { demoSoundRig } from '../../../lib/rig/sound/demoSoundRig';
import { playRig } from '../../../lib/rig/sound/playRig';
import type { SoundRigSpec } from '../../../lib/rig/sound/soundRigSpec';
import { nextFastLength, realFft } from '../../../lib/signal/fourier';
import { makeMutedSweep } from '../../../lib/signal/makeSweep';
import { decodeWav } from '../../../lib/wav/decodeWav';
import { levelAt } from './tones';

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
    // 45 dB per hertz over the 4.6 Hz of the band at 20 Hz
    expect(at20).toBeCloseTo(45 + 10 * Math.log10(19.95 * (10 ** 0.05 - 10 ** -0.05)), 1);
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
