import { describe, expect, it } from 'vitest';
import { removeHum } from '../../../lib/analysis/deconvolution/noise/removeHum';
import { randomFrom } from '../../../lib/rig/random';

const RATE = 3000;
const SECONDS = 20;
const sweepAt = (hz: number): number => 1 + 3.5 * Math.log(hz / 5);
const busyAt = (hz: number): [number, number] => [sweepAt(hz / 1.3), sweepAt(hz * 1.3) + 1.5];

/** A sweep (its own second harmonic 40 dB down), noise, and what a line adds. */
function capture(seed: number, hum: (t: number) => number, noise = 0.0005) {
  const random = randomFrom([seed, 'hum']);
  const clean = Float64Array.from({ length: RATE * SECONDS }, (_, n) => {
    const t = n / RATE - 1;
    const phase = 2 * Math.PI * 5 * 3.5 * Math.expm1(t / 3.5);
    const swept = t > 0 && t < 15 ? 0.1 * Math.sin(phase) + 0.001 * Math.sin(2 * phase) : 0;
    return swept + noise * random.normal();
  });
  return { clean, samples: clean.map((x, n) => x + hum(n / RATE)) };
}

const rms = (a: Float64Array, b: Float64Array) => Math.sqrt(a.reduce((s, x, i) => s + (x - b[i]) ** 2, 0) / a.length);

describe('removing hum', () => {
  it('takes lines out also where the sweep covers them, and leaves the sweep', () => {
    for (let seed = 1; seed <= 12; seed++) {
      const mains = 50 + 0.2 * Math.sin(seed);
      const hum = (t: number) =>
        0.01 * Math.sin(2 * Math.PI * mains * t + seed) + 0.005 * Math.sin(6 * Math.PI * mains * t - seed);
      const { clean, samples } = capture(seed, hum);
      const found = removeHum(samples, RATE, [mains + 0.03, 3 * mains - 0.03], busyAt);
      expect(found.removedHz).toHaveLength(2);
      // what is left, over the whole capture, is 35 dB below the louder line
      expect(rms(found.samples, clean)).toBeLessThan((0.01 / Math.SQRT2) * 10 ** (-35 / 20));
    }
  });

  it('follows mains that wander', () => {
    const wander = (t: number) => 0.01 * Math.sin(2 * Math.PI * (60 * t + 0.004 * (t - 9) ** 2 * 0.5));
    const { clean, samples } = capture(40, wander);
    const found = removeHum(samples, RATE, [60], busyAt);
    expect(rms(found.samples, clean)).toBeLessThan((0.01 / Math.SQRT2) * 10 ** (-26 / 20));
  });

  it('leaves the capture as it is where there is no steady line', () => {
    const { samples } = capture(50, () => 0, 0.005);
    expect(removeHum(samples, RATE, [50], busyAt)).toEqual({ samples, removedHz: [] });
    const restless = capture(51, (t) => 0.01 * Math.sin(2 * Math.PI * 50 * t + 40 * Math.sin(t * 1.7)));
    expect(removeHum(restless.samples, RATE, [50], busyAt).removedHz).toEqual([]);
  });

  it('leaves a line that is seen too shortly', () => {
    const { samples } = capture(60, (t) => 0.01 * Math.sin(2 * Math.PI * 50 * t));
    expect(removeHum(samples.subarray(0, RATE), RATE, [50], () => [0.2, 5]).removedHz).toEqual([]);
  });
});
