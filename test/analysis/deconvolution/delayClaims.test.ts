import { describe, expect, it } from 'vitest';
import { deconvolveCapture } from '../../../lib/analysis/deconvolution/deconvolveCapture';
import { stepsOf } from '../../../lib/model/step';
import { randomFrom } from '../../../lib/rig/random';
import { makeSweep } from '../../../lib/signal/makeSweep';
import { decodeWav } from '../../../lib/wav/decodeWav';
import { delayOf, type Simulated, simulateCapture } from './simulatedCapture';

const RATE = 6000;
const stimulus = makeSweep({ startHz: 5, endHz: 400, seconds: 8, sampleRateHz: RATE, levelDbfs: -15 });
const played = Float64Array.from(decodeWav(stimulus).channels[0]);
const lowPass = { kind: 'low-pass' as const, hz: 130 };

function claimOf(rig: Simulated, seed: number) {
  const { response, delayMs, quality } = deconvolveCapture(simulateCapture(played, RATE, rig, seed), stimulus, {
    harmonics: 1,
  });
  const { delayFrom, delayUncertaintyMs, clockPpm } = stepsOf(response, 'deconvolve')[0].with;
  return { delayFrom, uncertaintyMs: delayUncertaintyMs!, errorMs: delayMs - delayOf(rig, RATE), quality, clockPpm };
}

/** Echoes of an exponential tail, so much below the direct sound together, dB. */
function tail(seed: number, downDb: number): { ms: number; gain: number }[] {
  const random = randomFrom([seed, 'tail']);
  const echoes = Array.from({ length: 120 }, () => {
    const ms = random.between(1, 400);
    return { ms, gain: random.normal() * 10 ** ((-3 * ms) / 600) };
  });
  const power = echoes.reduce((sum, { gain }) => sum + gain * gain, 0);
  return echoes.map(({ ms, gain }) => ({ ms, gain: (gain * 10 ** (-downDb / 20)) / Math.sqrt(power) }));
}

describe('a delay', () => {
  it('is called that of the phase in a room only where it is right within 0.1 ms, and else says how far off it may be', () => {
    const claims = Array.from({ length: 40 }, (_, seed) => {
      const random = randomFrom([seed, 'claims']);
      const high = { kind: 'high-pass' as const, hz: random.between(16, 40) };
      const clockPpm = seed % 4 === 0 ? random.between(-120, 120) : 0;
      const echoes =
        seed % 2 === 0
          ? tail(seed, random.between(8, 30))
          : [0.7, 3, 9].map((ms) => ({ ms: ms * random.between(1, 2), gain: random.between(-0.5, 0.5) }));
      const after = seed % 3 === 0 ? [high, lowPass] : [high];
      return claimOf({ after, echoes, delayMs: random.between(5, 40), noise: 3e-4, clockPpm }, seed);
    });
    for (const { delayFrom, errorMs } of claims) if (delayFrom === 'phase') expect(Math.abs(errorMs)).toBeLessThan(0.1);
    const held = claims.filter(({ errorMs, uncertaintyMs }) => Math.abs(errorMs) <= uncertaintyMs);
    expect(held.length).toBeGreaterThanOrEqual(38);
    // a clock is taken out only where that brings the truth nearer
    const clocks = claims.filter(({ quality }) => quality.clockPpm !== null);
    expect(clocks.length).toBeGreaterThan(5);
    claims.forEach(({ clockPpm }, seed) => {
      if (clockPpm !== undefined) expect(seed % 4, `clock of ${clockPpm} ppm`).toBe(0);
    });
  });
});
