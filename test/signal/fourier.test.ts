import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { inverseRealFft, nextFastLength, realFft } from '../../lib/signal/fourier';
import { binFrequencies, multiplySpectra, spectrumPowers } from '../../lib/signal/spectrum';
// scipy.fft.rfft, scipy 1.10.1; script beside the values
import reference from '../reference/signals.json';
import { wave } from './wave';

describe('the real transform', () => {
  it.each(reference.spectra)('agrees with scipy for $length samples in $padded', ({ length, padded, at, bins }) => {
    const mine = realFft(wave(length), padded);
    expect(mine).toHaveLength(padded + 2);
    const scale = Math.max(...bins.map(Math.abs));
    at.forEach((bin, i) => {
      expect(Math.abs(mine[2 * bin] - bins[2 * i])).toBeLessThan(1e-12 * scale);
      expect(Math.abs(mine[2 * bin + 1] - bins[2 * i + 1])).toBeLessThan(1e-12 * scale);
    });
  });

  // closed forms
  it('turns an impulse at n into a rotation by 2 pi k n / N', () => {
    const samples = new Float64Array(64);
    samples[3] = 2;
    const bins = realFft(samples);
    for (let k = 0; k <= 32; k++) {
      expect(bins[2 * k]).toBeCloseTo(2 * Math.cos((2 * Math.PI * 3 * k) / 64), 13);
      expect(bins[2 * k + 1]).toBeCloseTo(-2 * Math.sin((2 * Math.PI * 3 * k) / 64), 13);
    }
  });

  it('puts a sine into one bin, at -j N / 2', () => {
    const bins = realFft(Float64Array.from({ length: 32 }, (_, n) => Math.sin((2 * Math.PI * 5 * n) / 32)));
    bins.forEach((value, i) => {
      expect(value).toBeCloseTo(i === 11 ? -16 : 0, 12);
    });
  });

  it('comes back to the samples, whatever they are, and leaves them alone', () => {
    const anySamples = fc
      .integer({ min: 2, max: 10 })
      .chain((lg) => fc.array(fc.double({ min: -1, max: 1, noNaN: true }), { minLength: 2 ** lg, maxLength: 2 ** lg }));
    fc.assert(
      fc.property(anySamples, (list) => {
        const samples = Float64Array.from(list);
        const bins = realFft(samples);
        expect([...samples]).toEqual(list);
        const before = [...bins];
        inverseRealFft(bins).forEach((value, n) => {
          expect(value).toBeCloseTo(list[n], 12);
        });
        expect([...bins]).toEqual(before);
      }),
      { numRuns: 60, seed: 3 },
    );
  });

  it('keeps the energy (Parseval)', () => {
    const samples = wave(4096);
    const energy = samples.reduce((sum, x) => sum + x * x, 0);
    const powers = spectrumPowers(realFft(samples));
    const twice = powers.reduce((sum, p) => sum + 2 * p, 0) - powers[0] - powers[2048];
    expect(twice / 4096).toBeCloseTo(energy, 8);
  });

  it('stays right when many lengths take turns', () => {
    for (const length of [8, 16, 32, 8, 64, 16, 8]) {
      expect(inverseRealFft(realFft(wave(length)))[length - 1]).toBeCloseTo(wave(length)[length - 1], 12);
    }
  });

  it('finds the next fast length', () => {
    expect([0, 1, 4, 5, 48000, 65536, 2 ** 20 + 1].map(nextFastLength)).toEqual([4, 4, 4, 8, 65536, 65536, 2 ** 21]);
  });

  it.each([0, 2, 6, 12, 1000, Number.NaN])('refuses a length of %s', (length) => {
    expect(() => realFft(new Float64Array(0), length)).toThrow(expect.objectContaining({ code: 'fft-length' }));
    if (length > 0) {
      const bins = new Float64Array(length + 2);
      expect(() => inverseRealFft(bins)).toThrow(expect.objectContaining({ code: 'fft-length' }));
    }
  });

  it('refuses to cut samples off', () => {
    expect(() => realFft(new Float64Array(9), 8)).toThrow(expect.objectContaining({ code: 'fft-length' }));
  });
});

describe('spectra', () => {
  it('multiply to the circular convolution', () => {
    const [a, b] = [wave(16), wave(40).subarray(24)];
    const product = inverseRealFft(multiplySpectra(realFft(a), realFft(b)));
    for (let n = 0; n < 16; n++) {
      let sum = 0;
      for (let m = 0; m < 16; m++) sum += a[m] * b[(n - m + 16) % 16];
      expect(product[n]).toBeCloseTo(sum, 11);
    }
  });

  it('multiplied are those of signals that were convolved round', () => {
    const [a, b] = [Float64Array.of(1, 2, 0, 0), Float64Array.of(0, 1, 0, 3)];
    // by hand: every b shifts a by its place
    const round = inverseRealFft(multiplySpectra(realFft(a), realFft(b)));
    expect([...round].map((value) => Math.round(value * 1e9) / 1e9)).toEqual([6, 1, 2, 3]);
  });

  it('have bins up to half the sample rate', () => {
    expect([...binFrequencies(5, 48000)]).toEqual([0, 6000, 12000, 18000, 24000]);
  });

  it('of different length are refused', () => {
    expect(() => multiplySpectra(new Float64Array(4), new Float64Array(6))).toThrow(
      expect.objectContaining({ code: 'unequal-spectra' }),
    );
  });
});
