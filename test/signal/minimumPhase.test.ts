import { describe, expect, it } from 'vitest';
import { type BiquadSpec, biquad } from '../../lib/signal/biquad';
import { hilbert } from '../../lib/signal/hilbert';
import { minimumPhase } from '../../lib/signal/minimumPhase';
import { biquadResponse } from '../../lib/signal/runBiquads';
// scipy.signal.hilbert, scipy 1.10.1; script beside the values
import reference from '../reference/filters.json';
import { wave } from './wave';

describe('the Hilbert transform', () => {
  it('agrees with scipy', () => {
    const mine = hilbert(wave(256));
    reference.hilbert.forEach((value, i) => {
      expect(mine[5 * i]).toBeCloseTo(value, 12);
    });
  });

  it('turns a cosine into a sine', () => {
    const turned = hilbert(Float64Array.from({ length: 64 }, (_, n) => Math.cos((2 * Math.PI * 3 * n) / 64)));
    turned.forEach((value, n) => {
      expect(value).toBeCloseTo(Math.sin((2 * Math.PI * 3 * n) / 64), 13);
    });
  });

  it('refuses a length that is no power of two', () => {
    expect(() => hilbert(wave(100))).toThrow(expect.objectContaining({ code: 'fft-length' }));
  });
});

describe('the minimum phase', () => {
  // closed form: 1 + c / z with |c| < 1 has its zero inside the unit circle, so its phase is the minimum one
  it('is that of one zero', () => {
    const angle = (k: number) => (Math.PI * k) / 512;
    const levels = Array.from({ length: 513 }, (_, k) => 10 * Math.log10(1.25 + Math.cos(angle(k))));
    minimumPhase(levels).forEach((phase, k) => {
      expect(phase).toBeCloseTo(Math.atan2(-0.5 * Math.sin(angle(k)), 1 + 0.5 * Math.cos(angle(k))), 12);
    });
  });

  // the filters agree with scipy (biquad.test.ts) and have all zeros and poles inside the circle or on it
  it.each([
    [{ kind: 'peaking', hz: 40, q: 4, gainDb: -9 } as BiquadSpec, 1e-4],
    [{ kind: 'low-shelf', hz: 30, gainDb: 8 } as BiquadSpec, 1e-4],
    [{ kind: 'high-pass', hz: 25 } as BiquadSpec, 1e-4], // two zeros on the circle, at 0 Hz
    [{ kind: 'low-pass', hz: 90 } as BiquadSpec, 1e-4], // and at half the sample rate
  ])('is that of a filter: %o', (spec, tolerance) => {
    const [fs, bins] = [1000, 8193];
    const filter = biquad(spec, fs);
    const hz = (k: number) => (k * fs) / (2 * (bins - 1));
    const phases = minimumPhase(Array.from({ length: bins }, (_, k) => biquadResponse([filter], hz(k), fs).db));
    for (let k = Math.round(5 / hz(1)); k < bins - 1; k += 7) {
      const wanted = (biquadResponse([filter], hz(k), fs).deg * Math.PI) / 180;
      expect(Math.abs(phases[k] - wanted)).toBeLessThan(tolerance);
    }
  });

  it('is zero where the level is flat, and where there is nothing', () => {
    expect(minimumPhase(new Float64Array(17).fill(3)).every((x) => Math.abs(x) < 1e-12)).toBe(true);
    expect(minimumPhase(new Float64Array(17).fill(Number.NEGATIVE_INFINITY)).every((x) => x === 0)).toBe(true);
  });

  it('refuses other grids and what is no number', () => {
    expect(() => minimumPhase(new Float64Array(100))).toThrow(expect.objectContaining({ code: 'minimum-phase-grid' }));
    expect(() => minimumPhase([0, Number.NaN, 0, 0, 0])).toThrow(expect.objectContaining({ code: 'not-a-number' }));
  });
});
