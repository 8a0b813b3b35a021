import { expect, test } from 'vitest';
import { playRig } from '../../../lib/rig/sound/playRig';
import type { SoundRigSpec } from '../../../lib/rig/sound/soundRigSpec';
import { decodeWav } from '../../../lib/wav/decodeWav';
import reference from '../../reference/soundRig.json';
import { stimulusOf } from './tones';

const rig: SoundRigSpec = {
  seed: 1,
  unit: {
    device: 'test unit',
    highPass: [{ f0Hz: 30, q: 0.8 }],
    lowPass: { hz: 200, order: 2 },
    sensitivityDb: 80,
  },
  settings: [{ name: 'lifted', equaliser: { kind: 'shelf', hz: 24, gainDb: 5, order: 2, q: 0.7 } }],
  drive: { rungs: 4, commandedStepDb: 3, trueStepDb: 3 },
  distanceM: 2,
  scatter: { gainDb: 0, shapeDb: 0 },
  grid: { kind: 'log', startHz: 5, endHz: 400, pointsPerOctave: 24 },
  recorder: { bits: 32, fullScaleDb: 118, latencyMs: 10.4 },
};

// the burst of test/reference/soundRig.py
const stimulus = stimulusOf(
  Float64Array.from({ length: 48000 }, (_, n) => {
    const t = n / 48000 - 0.1;
    if (t <= 0 || t >= 0.5) return 0;
    const window = 0.5 - 0.5 * Math.cos((2 * Math.PI * t) / 0.5);
    return window * (0.3 * Math.sin(2 * Math.PI * 22 * t) + 0.15 * Math.sin(2 * Math.PI * 61 * t));
  }),
  48000,
);

test.each([
  ['linear' as const, rig],
  ['distorted' as const, { ...rig, nonlinearity: { excursionAt20HzDb: 85, coefficients: [0.05, -0.08, 0.02, 0.01] } }],
  ['fastClock' as const, { ...rig, recorder: { ...rig.recorder, clockPpm: 400 } }],
])('the capture is what scipy makes of the same rig: %s', (name, played) => {
  const { capture } = playRig(played, stimulus, { setting: 'lifted', driveDb: 9 });
  const samples = decodeWav(capture).channels[0];
  const wanted = reference[name];
  const peak = Math.max(...wanted.map(Math.abs));
  const worst = Math.max(...wanted.map((value, i) => Math.abs(samples[reference.from + i * reference.every] - value)));
  // straight lines between samples cost scipy some (2 pi 61 / 192000)^2 / 12; beyond 2 kHz we play nothing
  expect(peak).toBeGreaterThan(0.02);
  expect(worst / peak).toBeLessThan(2e-5);
});
