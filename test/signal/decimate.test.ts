import { describe, expect, it } from 'vitest';
import { decimate } from '../../lib/signal/decimate';
import { lowPassTaps } from '../../lib/signal/lowPassTaps';
// scipy.signal.firwin and upfirdn, scipy 1.10.1; script beside the values
import reference from '../reference/signals.json';
import { dftAt, wave } from './wave';

describe('the lowering of the sample rate', () => {
  it.each(reference.decimated)('agrees with scipy at $fs Hz and a band of $band Hz', (wanted) => {
    const { fs, band } = wanted;
    const spec = { sampleRateHz: fs, passHz: band, stopHz: fs / wanted.factor - band, rejectionDb: 102 };
    const taps = lowPassTaps(spec);
    expect(taps).toHaveLength(wanted.count);
    wanted.taps.forEach((tap, n) => {
      expect(taps[n]).toBeCloseTo(tap, 14);
      expect(taps[taps.length - 1 - n]).toBeCloseTo(tap, 14);
    });
    const result = decimate(wave(6000), fs, { bandHz: band });
    expect(result.factor).toBe(wanted.factor);
    expect(result.sampleRateHz).toBeCloseTo(fs / wanted.factor, 10);
    expect(result.samples).toHaveLength(wanted.out.length);
    wanted.out.forEach((value, n) => {
      expect(result.samples[n]).toBeCloseTo(value, 12);
    });
  });

  it.each([8000, 11025, 22050, 44100, 48000, 88200, 96000, 192000])(
    'passes 0 to 500 Hz within 0.001 dB and keeps 100 dB of rejection from %i Hz',
    (fs) => {
      const { factor, sampleRateHz } = decimate(new Float64Array(1), fs);
      const stopHz = sampleRateHz - 500;
      const taps = lowPassTaps({ sampleRateHz: fs, passHz: 500, stopHz, rejectionDb: 102 });
      const level = (hz: number) => 20 * Math.log10(Math.hypot(...dftAt(taps, hz, fs)));
      expect(factor).toBe(Math.floor(fs / 3000));
      for (let hz = 0; hz <= 500; hz += 5) expect(Math.abs(level(hz))).toBeLessThan(0.001);
      for (let hz = stopHz; hz <= fs / 2; hz += 17) expect(level(hz)).toBeLessThan(-100);
    },
  );

  it('keeps a tone in the band where and as it is', () => {
    const tone = (fs: number, length: number) =>
      Float64Array.from({ length }, (_, n) => Math.sin((2 * Math.PI * 123.4 * n) / fs + 0.3));
    const { samples, sampleRateHz } = decimate(tone(48000, 48000), 48000);
    const wanted = tone(sampleRateHz, samples.length);
    // as close as four decimals
    expect(samples.slice(10, -10).every((x, n) => Math.abs(x - wanted[n + 10]) < 5e-5)).toBe(true);
  });

  it('keeps a tone that would fold into the band out of it', () => {
    const tone = Float64Array.from({ length: 48000 }, (_, n) => Math.sin((2 * Math.PI * 2900 * n) / 48000));
    const { samples } = decimate(tone, 48000);
    expect(samples.slice(10, -10).every((x) => Math.abs(x) < 1.2e-5)).toBe(true);
  });

  it('leaves the sound alone where the factor is 1, and gives it a copy', () => {
    const sound = wave(20);
    const result = decimate(sound, 4000);
    expect([...result.samples]).toEqual([...sound]);
    expect(result.samples).not.toBe(sound);
    expect(decimate(new Float64Array(0), 48000).samples).toHaveLength(0);
  });

  it.each([
    [0, {}, 'decimate-rate'],
    [48000, { bandHz: 24000 }, 'decimate-band'],
    [48000, { bandHz: Number.NaN }, 'decimate-band'],
    [48000, { factor: 48 }, 'decimate-factor'],
    [48000, { factor: 2.5 }, 'decimate-factor'],
    [48000, { factor: 0 }, 'decimate-factor'],
  ])('refuses %s Hz with %o', (fs, options, code) => {
    expect(() => decimate(new Float64Array(8), fs, options)).toThrow(expect.objectContaining({ code }));
  });
});
