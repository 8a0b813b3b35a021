import fc from 'fast-check';
import { expect, it } from 'vitest';
import { thinForScreen } from '../../lib';

it('keeps few points, the ends, every dip and every peak', () => {
  const rising = fc
    .array(
      fc.record({
        step: fc.double({ min: 1e-4, max: 0.5, noNaN: true }),
        db: fc.double({ min: 0, max: 100, noNaN: true }),
      }),
      {
        minLength: 2,
        maxLength: 900,
      },
    )
    .map((points) => {
      let hz = 5;
      return { frequencyHz: points.map(({ step }) => (hz *= 1 + step)), levelDb: points.map(({ db }) => db) };
    });
  fc.assert(
    fc.property(rising, fc.integer({ min: 4, max: 300 }), (curve, most) => {
      const { frequencyHz, levelDb } = thinForScreen(curve, most);
      expect(frequencyHz.length).toBeLessThanOrEqual(Math.max(most, 2));
      expect([frequencyHz[0], frequencyHz.at(-1)]).toEqual([curve.frequencyHz[0], curve.frequencyHz.at(-1)]);
      expect(Math.min(...levelDb)).toBe(Math.min(...curve.levelDb));
      expect(Math.max(...levelDb)).toBe(Math.max(...curve.levelDb));
      for (const [i, hz] of frequencyHz.entries()) {
        if (i > 0) expect(hz).toBeGreaterThan(frequencyHz[i - 1]);
        expect(levelDb[i]).toBe(curve.levelDb[curve.frequencyHz.indexOf(hz)]);
      }
    }),
    { seed: 4, numRuns: 300 },
  );
});

it('leaves a curve of few points as it is', () => {
  const curve = { frequencyHz: [20, 40, 80], levelDb: [1, 2, 3] };
  expect(thinForScreen(curve, 3)).toEqual(curve);
});
