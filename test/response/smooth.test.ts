import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { makeCurve } from '../../lib/model/makeCurve';
import { bandAround } from '../../lib/model/octaves';
import { centredMeans } from '../../lib/response/centredMeans';
import { powerIntegral } from '../../lib/response/powerIntegral';
import { smooth } from '../../lib/response/smooth';
import reference from '../reference/smoothing.json' with { type: 'json' };

const levels = (count: number) => fc.array(fc.double({ min: -60, max: 120, noNaN: true }), { minLength: count });
const rising = (steps: number[], from: number) => {
  let f = from;
  return steps.map((step) => {
    f *= 1 + step;
    return f;
  });
};

describe('smoothing over a fraction of an octave', () => {
  // Reference: dense numeric integration, scipy.integrate.quad (versions in the file).
  for (const { grid, frequencyHz, levelDb, smoothed, bands } of reference.cases) {
    it(`agrees with numeric integration on a grid with ${grid} spacing`, () => {
      for (const [fraction, expected] of Object.entries(smoothed)) {
        const { levelDb: got } = smooth(makeCurve({ frequencyHz, levelDb }), { fraction: Number(fraction) });
        expect(expected.every((level, i) => Math.abs(got[i] - level) < 1e-8)).toBe(true);
      }
    });

    it(`gives the band levels of numeric integration on a grid with ${grid} spacing`, () => {
      const integral = powerIntegral(frequencyHz, levelDb);
      for (const [low, high, level] of bands) expect(integral.meanDb(low, high)).toBeCloseTo(level, 9);
    });
  }

  it('means the same as the power integral, on any grid', () => {
    fc.assert(
      fc.property(
        levels(1),
        fc.double({ min: 0.3, max: 60, noNaN: true }),
        fc.infiniteStream(fc.double({ min: 1e-4, max: 0.5, noNaN: true })),
        (levelDb, fraction, stream) => {
          const steps = levelDb.map(() => stream.next().value as number);
          const f = rising(steps, 2);
          const power = levelDb.map((l) => 10 ** (l / 10));
          const means = centredMeans(f, power, fraction);
          const integral = powerIntegral(f, levelDb);
          for (let i = 0; i < f.length; i++) {
            const ratio = Math.min(bandAround(1, fraction)[1], f[i] / f[0], f[f.length - 1] / f[i]);
            const expected = ratio > 1 ? integral.mean(f[i] / ratio, f[i] * ratio) : power[i];
            expect(Math.abs(means[i] / expected - 1)).toBeLessThan(1e-9);
          }
        },
      ),
    );
  });

  it('keeps a flat curve flat, on any grid and over any fraction', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -200, max: 200, noNaN: true }),
        fc.constantFrom(1, 3, 6, 12, 24, 48),
        fc.array(fc.double({ min: 1e-4, max: 0.5, noNaN: true }), { minLength: 1, maxLength: 60 }),
        (level, fraction, steps) => {
          const flat = makeCurve({ frequencyHz: rising(steps, 2), levelDb: steps.map(() => level) });
          for (const smoothed of smooth(flat, { fraction }).levelDb)
            expect(Math.abs(smoothed - level)).toBeLessThan(1e-9);
        },
      ),
    );
  });

  it('keeps the total power, but for what windows that widen with frequency make of it (closed form)', () => {
    // Each power at u is spread over f = u/r .. ur with weight 1 / (f (r - 1/r)), which sums to 2 ln r / (r - 1/r):
    // 0.98 of it for whole octaves, 0.998 for thirds.
    const f = Array.from({ length: 4001 }, (_, i) => 2 * 1000 ** (i / 4000));
    const bump = fc.record({
      at: fc.double({ min: 20, max: 200, noNaN: true }),
      octaves: fc.double({ min: 0.05, max: 0.5, noNaN: true }),
      db: fc.double({ min: 0, max: 30, noNaN: true }),
    });
    const total = (levelDb: number[]) => powerIntegral(f, levelDb).mean(f[0], f[f.length - 1]);
    fc.assert(
      fc.property(fc.array(bump, { minLength: 1, maxLength: 5 }), fc.constantFrom(1, 3, 12), (bumps, fraction) => {
        const power = (hz: number) =>
          bumps.reduce(
            (sum, { at, octaves, db }) => sum + 10 ** (db / 10) * Math.exp(-((Math.log2(hz / at) / octaves) ** 2)),
            1e-12,
          );
        const levelDb = f.map((hz) => 10 * Math.log10(power(hz)));
        const r = bandAround(1, fraction)[1];
        const kept = (2 * Math.log(r)) / (r - 1 / r);
        const smoothed = smooth(makeCurve({ frequencyHz: f, levelDb }), { fraction }).levelDb;
        expect(total(smoothed) / total(levelDb) / kept).toBeCloseTo(1, 3);
      }),
      { numRuns: 60 },
    );
  });

  it('leaves the first and the last point as they are', () => {
    const curve = makeCurve({ frequencyHz: [10, 13, 17, 22, 30], levelDb: [60, 80, 70, 85, 75] });
    const { levelDb } = smooth(curve, { fraction: 1 });
    expect(levelDb[0]).toBeCloseTo(60, 10);
    expect(levelDb[4]).toBeCloseTo(75, 10);
    expect(smooth(makeCurve({ frequencyHz: [10], levelDb: [60] }), { fraction: 3 }).levelDb[0]).toBeCloseTo(60, 10);
  });

  it('keeps a quiet stretch exact after a loud one 150 dB above it', () => {
    // Closed form: inside the quiet stretch everything is 0 dB.
    const frequencyHz = Array.from({ length: 65_536 }, (_, i) => 2 + 0.02 * i);
    const edge = 30_000;
    const levelDb = frequencyHz.map((_, i) => (i < edge ? 150 : 0));
    const { levelDb: got } = smooth(makeCurve({ frequencyHz, levelDb }), { fraction: 3 });
    const [, beyond] = bandAround(frequencyHz[edge], 3);
    for (let i = 0; i < got.length; i++) {
      if (frequencyHz[i] > beyond * 1.0001) expect(Math.abs(got[i])).toBeLessThan(1e-8);
    }
    const integral = powerIntegral(frequencyHz, levelDb);
    expect(Math.abs(integral.meanDb(frequencyHz[edge], 1300))).toBeLessThan(1e-8);
  });

  it('smooths the noise as it does the level, and leaves a pure delay alone', () => {
    const frequencyHz = Array.from({ length: 200 }, (_, i) => 5 + i);
    const levelDb = frequencyHz.map((f) => 80 + 5 * Math.sin(f));
    const phaseDeg = frequencyHz.map((f) => ((((30 - 360 * 0.012 * f) % 360) + 540) % 360) - 180);
    const curve = makeCurve({ frequencyHz, levelDb, noiseDb: levelDb.map((l) => l - 20), phaseDeg });
    const done = smooth(curve, { fraction: 3 });
    done.noiseDb!.forEach((n, i) => {
      expect(n).toBeCloseTo(done.levelDb[i] - 20, 9);
    });
    done.phaseDeg!.forEach((p, i) => {
      expect(Math.abs(Math.sin(((p - phaseDeg[i]) * Math.PI) / 360))).toBeLessThan(1e-9);
    });
    expect(done.steps).toEqual([{ did: 'smooth', with: { fraction: 3 } }]);
    expect(curve.levelDb[3]).toBe(levelDb[3]);
  });

  it.each([0, -3, Number.NaN, Number.POSITIVE_INFINITY])('refuses a fraction of %s', (fraction) => {
    const curve = makeCurve({ frequencyHz: [10, 20], levelDb: [1, 2] });
    expect(() => smooth(curve, { fraction })).toThrowError(expect.objectContaining({ code: 'bad-fraction' }));
  });
});
