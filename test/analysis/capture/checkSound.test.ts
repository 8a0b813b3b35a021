import { describe, expect, it } from 'vitest';
import { checkSound } from '../../../lib/analysis/capture/checkSound';
import { extremesOf } from '../../../lib/analysis/capture/extremes';
import { randomFrom } from '../../../lib/rig/random';

// Known by construction: a sweep in white noise, and one fault each.

const RATE = 48_000;

function sweep(seed: number, noise = 1e-4): Float64Array {
  const random = randomFrom([seed, 'sound']);
  return Float64Array.from({ length: 6 * RATE }, (_, n) => {
    const t = n / RATE - 0.5;
    const swept = t > 0 && t < 5 ? 0.4 * Math.sin(2 * Math.PI * 10 * 1.4 * Math.expm1(t / 1.4)) : 0;
    return swept * Math.min(1, 10 * t, 10 * (5 - t)) + noise * random.normal();
  });
}

const codes = (samples: Float64Array) =>
  checkSound(samples, RATE, extremesOf(samples), false).map(({ code, severity }) => [severity, code].join(' '));

describe('the sound of a capture', () => {
  it('is not blamed where it is whole', () => {
    for (let seed = 0; seed < 12; seed++) {
      expect(codes(sweep(seed, 10 ** (-5 + (seed % 4))))).toEqual([]);
    }
  });

  it('has gaps where samples are zero, and jumps where some were left out or came twice', () => {
    const gap = sweep(1);
    gap.fill(0, 2 * RATE, 2 * RATE + 200);
    const [caveat] = checkSound(gap, RATE, extremesOf(gap), false);
    expect(caveat).toMatchObject({ code: 'capture-gaps', severity: 'doubt', values: { gaps: 1, kind: 'silent' } });
    expect(caveat.values.atS).toBeCloseTo(2, 2);
    const whole = sweep(2);
    const lost = whole.subarray(0, whole.length - 512).map((x, n) => (n < 100_000 ? x : whole[n + 512]));
    expect(codes(lost)).toEqual(['doubt capture-jumps']);
  });

  it('has tops cut off at one level, in one polarity alone too', () => {
    const random = randomFrom(['overload']);
    const cut = sweep(3).map((x) => 0.5 * Math.min(x, 0.25) + 5e-5 * random.normal());
    const [caveat] = checkSound(cut, RATE, extremesOf(cut), false);
    expect(caveat.code).toBe('capture-overloaded');
    expect(Math.abs((caveat.values.plateauDbfs as number) - 20 * Math.log10(0.125))).toBeLessThan(0.2);
  });

  it('has nothing above the frequency at which a coder cut it off', () => {
    // noise of a running mean of a windowed sinc with its edge at 16 kHz
    const random = randomFrom(['coder']);
    const taps = Array.from({ length: 257 }, (_, i) => {
      const u = i - 128;
      const sinc = u === 0 ? 2 / 3 : Math.sin((2 * Math.PI * u) / 3) / (Math.PI * u);
      return sinc * (0.5 + 0.5 * Math.cos((Math.PI * u) / 129));
    });
    const white = Float64Array.from({ length: RATE }, () => 1e-3 * random.normal());
    const coded = white.map((_, n) => taps.reduce((sum, tap, i) => sum + tap * (white[n - i] ?? 0), 0));
    const [caveat] = checkSound(coded, RATE, extremesOf(coded), false);
    expect(caveat).toMatchObject({ code: 'capture-band-limited', severity: 'remark' });
    expect(Math.abs((caveat.values.fromHz as number) - 16_000)).toBeLessThan(700);
  });
});
