import { describe, expect, test } from 'vitest';
import { demoSoundRig } from '../../../lib/rig/sound/demoSoundRig';
import { playRig } from '../../../lib/rig/sound/playRig';
import type { SoundRigSpec } from '../../../lib/rig/sound/soundRigSpec';
import { nextFastLength } from '../../../lib/signal/fourier';
import { hilbert } from '../../../lib/signal/hilbert';
import { makeSweep } from '../../../lib/signal/makeSweep';
import { planSweep } from '../../../lib/signal/sweepPlan';
import { decodeWav } from '../../../lib/wav/decodeWav';
import { levelAt, stimulusOf } from './tones';

const RATE = 48000;
const run = { setting: 'shelf-flat', driveDb: 0 };
const demo = demoSoundRig();

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

  test('lags behind a sweep as the truth of that sweep says', () => {
    const spec = { startHz: 10, endHz: 200, seconds: 6, sampleRateHz: 8000, levelDbfs: 0 };
    const slow: SoundRigSpec = {
      ...limited,
      soundLimiter: { crossoverHz: 60, bottom: { excursionAt20HzDb: 85, kneeDb: 2, attackS: 0.05, releaseS: 0.8 } },
    };
    const played = playRig(slow, makeSweep(spec), run);
    const { rateSeconds, leadInSamples } = planSweep(spec);
    const sound = decodeWav(played.capture).channels[0];
    const padded = new Float64Array(nextFastLength(sound.length));
    padded.set(sound);
    const quadrature = hilbert(padded);
    const frequencyHz = [16, 20, 25, 32, 40];
    // envelope at the time when the sweep passes; the filters delay it by a few ms, in which it moves by less than 1 %
    const heard = frequencyHz.map((hz) => {
      const n = Math.round(leadInSamples + 8000 * (rateSeconds * Math.log(hz / 10) + played.truth.delayMs / 1000));
      return 20 * Math.log10(Math.hypot(padded[n], quadrature[n]));
    });
    const swept = played.truth.tone(frequencyHz, { sweep: spec }).levelDbfs;
    const steady = played.truth.tone(frequencyHz).levelDbfs;
    const worst = (levels: number[]) => Math.max(...levels.map((level, i) => Math.abs(level - heard[i])));
    expect(worst(steady)).toBeGreaterThan(1);
    expect(worst(swept)).toBeLessThan(0.2);
  });
});
