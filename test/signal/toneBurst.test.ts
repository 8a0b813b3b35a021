import { describe, expect, it } from 'vitest';
import { burstSchedule } from '../../lib/signal/burstSchedule';
import { toneBurst } from '../../lib/signal/toneBurst';
import { dftAt } from './wave';

const base = { sampleRateHz: 8000, fromHz: 20, toHz: 63, lowestDbfs: -12, highestDbfs: -3, stepDb: 3 };

describe('the tone burst', () => {
  // closed form: the spectrum of a Hann window has zeros 2, 3, 4 ... bins from its middle; the mirror image about 0 Hz
  // lies 13 bins on, where it has zeros too
  it('has zeros at its frequency times 1 +- k / 6.5, k >= 2, and half of its area at the middle', () => {
    const hz = 40;
    const burst = toneBurst(hz, 48000);
    const level = (f: number) => Math.hypot(...dftAt(burst, f, 48000)) / 48000;
    const middle = level(hz);
    expect(middle).toBeCloseTo((0.25 * 6.5) / hz, 8); // amplitude 1: half for the sine, half for the window's mean
    for (const k of [2, 3, 4]) {
      expect(level(hz * (1 + k / 6.5)) / middle).toBeLessThan(1e-7);
      expect(level(hz * (1 - k / 6.5)) / middle).toBeLessThan(1e-7);
    }
    expect(20 * Math.log10(level(0) / middle)).toBeCloseTo(-52.5, 1); // 2 sinc(6.5) / (1 - 6.5^2)
  });

  it('lasts 6.5 cycles, starts and ends at nothing and peaks at 1 in the middle', () => {
    const burst = toneBurst(50, 48000); // 6240 samples, the peak on one of them
    expect(burst).toHaveLength(6241);
    expect(burst[3120]).toBeCloseTo(1, 12);
    expect(Math.abs(burst[0])).toBe(0);
    expect(Math.abs(burst[6240])).toBeLessThan(1e-15);
    expect(Math.max(...burst)).toBeLessThanOrEqual(1);
  });
});

describe('the schedule of bursts', () => {
  it('plays every base-10 centre at every level, never louder than needed', () => {
    const { bursts } = burstSchedule(base);
    const centres = [1.3, 1.4, 1.5, 1.6, 1.7, 1.8].map((x) => 10 ** x); // IEC 61260-1, 5.4: 20 to 63 Hz
    expect(bursts).toHaveLength(4 * 6);
    bursts.forEach((burst, i) => {
      expect(burst.centreHz).toBeCloseTo(centres[i % 6], 10);
      expect(burst.levelDbfs).toBeCloseTo(-12 + 3 * Math.floor(i / 6), 10);
    });
  });

  it('puts each burst where it says, with silence all round', () => {
    const { samples, bursts } = burstSchedule({ ...base, gapSeconds: 0.5 });
    const rest = samples.slice();
    for (const { centreHz, levelDbfs, atSample, samples: count } of bursts) {
      const part = samples.subarray(atSample, atSample + count);
      const peak = part.reduce((most, x) => Math.max(most, Math.abs(x)), 0);
      expect(20 * Math.log10(peak)).toBeCloseTo(levelDbfs, 2);
      expect(count / 8000).toBeCloseTo(6.5 / centreHz, 3);
      rest.fill(0, atSample, atSample + count);
    }
    expect(rest.every((x) => x === 0)).toBe(true);
    bursts.slice(1).forEach((burst, i) => {
      expect(burst.atSample - bursts[i].atSample - bursts[i].samples).toBe(4000);
    });
    expect(bursts[0].atSample).toBe(4000);
    expect(samples).toHaveLength(bursts.at(-1)!.atSample + bursts.at(-1)!.samples + 4000);
  });

  it('leaves out a highest level that the steps do not meet', () => {
    const { bursts } = burstSchedule({ ...base, highestDbfs: -4 });
    expect(bursts.at(-1)?.levelDbfs).toBeCloseTo(-6, 10);
  });

  it.each([
    [{ sampleRateHz: 0 }, 'burst-rate'],
    [{ toHz: 3000 }, 'burst-range'],
    [{ fromHz: 80 }, 'burst-range'],
    [{ highestDbfs: 1 }, 'burst-level'],
    [{ lowestDbfs: 0 }, 'burst-level'],
    [{ stepDb: 0 }, 'burst-level'],
    [{ gapSeconds: -1 }, 'burst-gap'],
    [{ gapSeconds: Number.POSITIVE_INFINITY }, 'burst-gap'],
    [{ stepDb: 1e-6 }, 'burst-too-long'],
  ])('refuses %o', (change, code) => {
    expect(() => burstSchedule({ ...base, ...change })).toThrow(expect.objectContaining({ code }));
  });
});
