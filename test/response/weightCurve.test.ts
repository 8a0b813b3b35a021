import { describe, expect, it } from 'vitest';
import { makeCurve } from '../../lib/model/makeCurve';
import { weightCurve } from '../../lib/response/weightCurve';

// IEC 61672-1:2013, table 3, nominal 10 to 200 Hz, which stand for 10^(1 + i/10) Hz; from memory
const A = [-70.4, -63.4, -56.7, -50.5, -44.7, -39.4, -34.6, -30.2, -26.2, -22.5, -19.1, -16.1, -13.4, -10.9];
const C = [-14.3, -11.2, -8.5, -6.2, -4.4, -3.0, -2.0, -1.3, -0.8, -0.5, -0.3, -0.2, -0.1, 0.0];
const frequencyHz = A.map((_, i) => 10 ** (1 + i / 10));
const curve = makeCurve({
  frequencyHz,
  levelDb: frequencyHz.map((_, i) => 100 + i),
  noiseDb: frequencyHz.map(() => 30),
  phaseDeg: frequencyHz.map((_, i) => -10 * i),
  scale: 'spl',
});

describe('a weighted curve', () => {
  it.each([
    ['A' as const, A],
    ['C' as const, C],
    ['Z' as const, A.map(() => 0)],
  ])('%s has level and noise of the table', (weighting, table) => {
    const weighted = weightCurve(curve, weighting);
    table.forEach((db, i) => {
      expect(Math.abs(weighted.levelDb[i] - (100 + i + db))).toBeLessThanOrEqual(0.0501);
      expect(Math.abs(weighted.noiseDb![i] - (30 + db))).toBeLessThanOrEqual(0.0501);
    });
    expect(weighted.phaseDeg).toEqual(curve.phaseDeg);
    expect(weighted.scale).toBe('spl');
    expect(weighted.steps).toEqual([{ did: 'frequency weighting', with: { weighting } }]);
    expect(curve.levelDb[0]).toBe(100);
  });

  it('is not weighted twice; Z is no weighting', () => {
    expect(weightCurve(weightCurve(curve, 'Z'), 'A').levelDb[0]).toBeCloseTo(29.6, 1);
    for (const again of ['A', 'C', 'Z'] as const) {
      expect(() => weightCurve(weightCurve(curve, 'A'), again)).toThrow(
        expect.objectContaining({ code: 'already-weighted' }),
      );
    }
  });

  it('is refused of what has no level of its own, and for other weightings', () => {
    for (const role of ['harmonic', 'correction'] as const) {
      expect(() => weightCurve(makeCurve({ ...curve, role }), 'A')).toThrow(
        expect.objectContaining({ code: 'not-a-level' }),
      );
    }
    expect(() => weightCurve(curve, 'B' as 'A')).toThrow(expect.objectContaining({ code: 'weighting-kind' }));
  });
});
