import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { BassloomError } from '../../lib/model/errors';
import { interpolate } from '../../lib/model/interpolate';
import { deriveCurve, makeCurve } from '../../lib/model/makeCurve';
import { powerIntegral } from '../../lib/response/powerIntegral';

describe('a curve', () => {
  it('has the same id for the same numbers, whatever it is called', () => {
    const a = makeCurve({ frequencyHz: [10, 20], levelDb: [1, 2], label: 'a' });
    const b = makeCurve({ frequencyHz: [10, 20], levelDb: [1, 2], label: 'b' });
    const c = makeCurve({ frequencyHz: [10, 20], levelDb: [1, 2.0000001], label: 'a' });
    expect(a.id).toBe(b.id);
    expect(a.id).not.toBe(c.id);
  });

  it('keeps its story when another is derived from it', () => {
    const a = makeCurve({ frequencyHz: [10, 20], levelDb: [1, 2] });
    const b = deriveCurve(a, { levelDb: [2, 3] }, { did: 'own: offset', with: { db: 1 } });
    expect(b.steps).toEqual([{ did: 'own: offset', with: { db: 1 } }]);
    expect(a.steps).toEqual([]);
    expect(a.levelDb).toEqual([1, 2]);
  });

  it.each([
    ['empty-curve', { frequencyHz: [], levelDb: [] }],
    ['unequal-columns', { frequencyHz: [10, 20], levelDb: [1] }],
    ['frequency-not-rising', { frequencyHz: [20, 10], levelDb: [1, 1] }],
    ['frequency-not-rising', { frequencyHz: [0, 10], levelDb: [1, 1] }],
    ['not-a-number', { frequencyHz: [10, 20], levelDb: [1, Number.NaN] }],
  ])('is refused with %s', (code, parts) => {
    expect(() => makeCurve(parts)).toThrowError(BassloomError);
    try {
      makeCurve(parts);
    } catch (error) {
      expect((error as BassloomError).code).toBe(code);
    }
  });
});

describe('interpolation', () => {
  it('is straight over log frequency and holds the end values', () => {
    expect(interpolate([10, 40, 160], [0, 12, 0], [5, 10, 20, 40, 80, 160, 500])).toEqual([0, 0, 6, 12, 6, 0, 0]);
  });
});

describe('the power integral', () => {
  it('agrees with the trapezium between and at points', () => {
    // power 1 at 10 Hz, 3 at 20 Hz: over 10..20 the mean is 2; over 12..14 it is the power at 13 Hz, 1.6 (closed form)
    const integral = powerIntegral([10, 20], [0, 10 * Math.log10(3)]);
    expect(integral.mean(10, 20)).toBeCloseTo(2, 12);
    expect(integral.mean(12, 14)).toBeCloseTo(1.6, 12);
    expect(integral.mean(15, 15)).toBeCloseTo(2, 6);
    expect(integral.mean(21, 30)).toBeNaN();
  });

  it('of a flat curve is flat over any range', () => {
    fc.assert(
      fc.property(
        fc.uniqueArray(fc.double({ min: 1, max: 1000, noNaN: true }), { minLength: 2, maxLength: 50 }),
        fc.double({ min: -200, max: 200, noNaN: true }),
        (frequencies, level) => {
          const f = frequencies.sort((a, b) => a - b);
          const integral = powerIntegral(
            f,
            f.map(() => level),
          );
          expect(integral.meanDb(f[0], f[f.length - 1])).toBeCloseTo(level, 6);
        },
      ),
    );
  });
});
