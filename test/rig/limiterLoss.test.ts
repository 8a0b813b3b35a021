import { describe, expect, it } from 'vitest';
import { heatLoss, limiterLoss } from '../../lib/rig/limiterLoss';
import type { LimiterSpec } from '../../lib/rig/rigSpec';

const wall: LimiterSpec = { excursionAt20HzDb: 300, amplifierDb: 100, kneeDb: 4, slope: 0 };

describe('the limiter', () => {
  it('takes nothing below its knee and all that is too much above it', () => {
    expect(limiterLoss(wall, 50, 98)).toBe(0);
    expect(limiterLoss(wall, 50, 50)).toBe(0);
    expect(limiterLoss(wall, 50, 110)).toBeCloseTo(10, 9);
    expect(limiterLoss(undefined, 50, 200)).toBe(0);
  });

  it('takes an eighth of the knee width right at the ceiling', () => {
    // static curve of a quadratic knee: (W/2)^2 / 2W = W/8
    expect(limiterLoss(wall, 50, 100)).toBeCloseTo(0.5, 9);
    expect(limiterLoss({ ...wall, slope: 0.5 }, 50, 100)).toBeCloseTo(0.25, 9);
  });

  it('never lets a louder signal come out softer, and has no corner', () => {
    const soft: LimiterSpec = { ...wall, kneeDb: 12, slope: 0.2, guard: { belowHz: 25, offsetDb: 6, kneeDb: 2 } };
    for (const hz of [10, 24, 26, 60]) {
      let before = 80;
      let gainBefore = 1;
      for (let level = 80.01; level < 120; level += 0.01) {
        const out = level - limiterLoss(soft, hz, level);
        const gain = (out - before) / 0.01;
        expect(gain).toBeGreaterThan(-1e-9);
        expect(Math.abs(gain - gainBefore)).toBeLessThan(0.01);
        before = out;
        gainBefore = gain;
      }
    }
  });

  it('has a ceiling that rises by 12 dB per octave where excursion rules and is level where the amplifier does', () => {
    const limiter: LimiterSpec = { excursionAt20HzDb: 90, amplifierDb: 110, kneeDb: 1, slope: 0 };
    const ceiling = (hz: number) => 200 - limiterLoss(limiter, hz, 200);
    // 40 lg 2 = 12.04 dB
    expect(ceiling(10) - ceiling(5)).toBeCloseTo(12.04, 2);
    expect(ceiling(400)).toBeCloseTo(110, 2);
  });

  it('guards the bottom only', () => {
    const guard = { belowHz: 24, offsetDb: 7, kneeDb: 1 };
    const gap = (hz: number) => limiterLoss({ ...wall, guard }, hz, 120) - limiterLoss(wall, hz, 120);
    expect(gap(12)).toBeCloseTo(7, 3);
    expect(gap(24)).toBeCloseTo(3.5, 6);
    expect(gap(48)).toBeCloseTo(0, 3);
  });
});

describe('heat in the coil', () => {
  it('takes 4.18 dB where the resistance is up by the golden ratio, and little 20 dB below', () => {
    // r^2 - r - 1 = 0: r = 1.618..., 20 lg r = 4.18
    expect(heatLoss(30, 30)).toBeCloseTo(4.1798, 3);
    expect(heatLoss(10, 30)).toBeLessThan(0.09);
    expect(heatLoss(10, undefined)).toBe(0);
  });
});
