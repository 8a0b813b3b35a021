import { describe, expect, it } from 'vitest';
import { makeCurve } from '../../lib/model/makeCurve';
import { averageCurves } from '../../lib/response/averageCurves';
import { correctMicrophone } from '../../lib/response/correctMicrophone';
import reference from '../reference/powerMeans.json' with { type: 'json' };

const f = [20, 40, 80];
const curve = (levelDb: number[], more = {}) => makeCurve({ frequencyHz: f, levelDb, ...more });

describe('averaging curves', () => {
  // Reference: numpy (versions in the file), mean of 10^(L/10), of L, and of complex pressures.
  it('agrees with numpy by power, by decibel and as vectors', () => {
    const curves = reference.levelDb.map((levelDb, n) =>
      makeCurve({ frequencyHz: reference.frequencyHz, levelDb, phaseDeg: reference.phaseDeg[n] }),
    );
    for (const method of ['power', 'decibel', 'vector'] as const) {
      const { levelDb } = averageCurves(curves, { method });
      levelDb.forEach((level, i) => {
        expect(level).toBeCloseTo(reference[method][i], 9);
      });
    }
    const { phaseDeg } = averageCurves(curves, { method: 'vector' });
    phaseDeg!.forEach((phase, i) => {
      expect(Math.cos(((phase - reference.vectorPhaseDeg[i]) * Math.PI) / 180)).toBeCloseTo(1, 12);
    });
    expect(averageCurves(curves).levelDb).toEqual(averageCurves(curves, { method: 'power' }).levelDb);
    expect(averageCurves(curves).phaseDeg).toBeUndefined();
  });

  it('keeps the first grid inside the common range and reads the others on it', () => {
    const a = makeCurve({ frequencyHz: [5, 10, 20, 40, 80], levelDb: [0, 0, 0, 0, 0] });
    const b = makeCurve({ frequencyHz: [10, 40], levelDb: [0, 12] });
    const got = averageCurves([a, b], { method: 'decibel' });
    expect(got.frequencyHz).toEqual([10, 20, 40]);
    expect(got.levelDb.map((l) => Number(l.toFixed(9)))).toEqual([0, 3, 6]);
  });

  it('averages noise by power, and as vectors divides it by the number of curves', () => {
    const two = [curve([80, 80, 80], { noiseDb: [40, 40, 40] }), curve([80, 80, 80], { noiseDb: [50, 40, 40] })];
    expect(averageCurves(two).noiseDb![0]).toBeCloseTo(10 * Math.log10((1e4 + 1e5) / 2), 9);
    const phased = two.map((c) => ({ ...c, phaseDeg: [0, 0, 0] }));
    expect(averageCurves(phased, { method: 'vector' }).noiseDb![1]).toBeCloseTo(40 - 3.0103, 4);
    expect(averageCurves([two[0], curve([80, 80, 80])]).noiseDb).toBeUndefined();
  });

  it('averages the power ratios of harmonics of one order, and mixes no orders', () => {
    const third = (levels: number[]) => curve(levels, { role: 'harmonic', order: 3 });
    const got = averageCurves([third([-40, -30, -20]), third([-20, -30, -20])]);
    // 10 lg ((10^-4 + 10^-2) / 2), by hand.
    expect(got.levelDb.map((l) => Number(l.toFixed(3)))).toEqual([-22.967, -30, -20]);
    expect([got.role, got.order]).toEqual(['harmonic', 3]);
    const second = curve([-20, -30, -20], { role: 'harmonic', order: 2 });
    expect(() => averageCurves([third([-40, -30, -20]), second])).toThrowError(
      expect.objectContaining({ code: 'mixed-curves', field: 'order' }),
    );
  });

  it('keeps what the curves have in common of their story', () => {
    const a = curve([1, 2, 3], {
      about: { device: 'unit', position: 'left' },
      steps: [{ did: 'own: offset', with: { db: 1 } }],
    });
    const b = curve([2, 3, 4], {
      about: { device: 'unit', position: 'right' },
      steps: [{ did: 'own: offset', with: { db: 1 } }],
    });
    const got = averageCurves([a, b]);
    expect(got.about).toEqual({ device: 'unit' });
    expect(got.steps.map(({ did }) => did)).toEqual(['own: offset', 'average']);
    expect(got.steps[1].with).toEqual({ method: 'power', curves: [a.id, b.id] });
  });

  it.each([
    ['no-curves', () => averageCurves([])],
    ['no-phase', () => averageCurves([curve([1, 2, 3])], { method: 'vector' })],
    [
      'no-common-range',
      () => averageCurves([curve([1, 2, 3]), makeCurve({ frequencyHz: [100, 200], levelDb: [1, 1] })]),
    ],
    ['mixed-curves', () => averageCurves([curve([1, 2, 3]), curve([1, 2, 3], { scale: 'spl' })])],
    ['mixed-curves', () => averageCurves([curve([1, 2, 3]), correctMicrophone(curve([1, 2, 3]), curve([0, 0, 0]))])],
    ['bad-method', () => averageCurves([curve([1, 2, 3])], { method: 'median' as 'power' })],
  ])('refuses with %s', (code, work) => {
    expect(work).toThrowError(expect.objectContaining({ code }));
  });
});
