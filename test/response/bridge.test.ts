import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { makeCurve } from '../../lib/model/makeCurve';
import { bridge } from '../../lib/response/bridge';

const frequencyHz = Array.from({ length: 200 }, (_, i) => 8 * 2 ** (i / 36));

describe('bridging masked ranges', () => {
  it('goes straight on across a dip in a straight roll-off', () => {
    // Closed form: 24 dB per octave, exactly, with a dip cut into it.
    fc.assert(
      fc.property(
        fc.double({ min: -24, max: 24, noNaN: true }),
        fc.double({ min: 10, max: 250, noNaN: true }),
        (slope, at) => {
          const straight = frequencyHz.map((f) => 80 + slope * Math.log2(f / 30));
          const mask: [number, number] = [at * 0.9, at * 1.1];
          const levelDb = straight.map((l, i) => (frequencyHz[i] > mask[0] && frequencyHz[i] < mask[1] ? l - 15 : l));
          const { levelDb: got } = bridge(makeCurve({ frequencyHz, levelDb }), [mask]);
          got.forEach((l, i) => {
            expect(l).toBeCloseTo(straight[i], 9);
          });
        },
      ),
    );
  });

  it('does not let a single noisy point beside the mask decide', () => {
    const levelDb = frequencyHz.map(() => 80);
    const edge = frequencyHz.findIndex((f) => f > 45) - 1;
    levelDb[edge] = 74;
    const { levelDb: got } = bridge(makeCurve({ frequencyHz, levelDb }), [[45, 55]]);
    const inside = got.filter((_, i) => frequencyHz[i] > 45 && frequencyHz[i] < 55);
    expect(Math.min(...inside)).toBeGreaterThan(79);
  });

  it('holds the level beside a mask that covers an end', () => {
    const levelDb = frequencyHz.map((f) => (f < 12 ? 20 : f > 200 ? 30 : 80));
    const { levelDb: got } = bridge(makeCurve({ frequencyHz, levelDb }), [
      [1, 12],
      [200, 1000],
    ]);
    got.forEach((l) => {
      expect(l).toBeCloseTo(80, 9);
    });
  });

  it('joins masks that overlap, and leaves a curve alone that has no point in a mask', () => {
    const curve = makeCurve({ frequencyHz: [10, 20, 30, 40, 50], levelDb: [0, 0, -9, -9, 0] });
    expect(
      bridge(curve, [
        [35, 45],
        [25, 36],
      ]).levelDb,
    ).toEqual([0, 0, 0, 0, 0]);
    expect(bridge(curve, [[21, 22]]).levelDb).toEqual(curve.levelDb);
    expect(bridge(curve, []).levelDb).toEqual(curve.levelDb);
  });

  it.each([
    ['bad-interval', [[50, 40]]],
    ['bad-interval', [[Number.NaN, 40]]],
    ['all-masked', [[1, 100]]],
  ])('refuses with %s', (code, masks) => {
    const curve = makeCurve({ frequencyHz: [10, 20], levelDb: [0, 0] });
    expect(() => bridge(curve, masks as [number, number][])).toThrowError(expect.objectContaining({ code }));
  });
});
