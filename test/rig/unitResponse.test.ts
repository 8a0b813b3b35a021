import { describe, expect, it } from 'vitest';
import type { Equaliser, UnitSpec } from '../../lib/rig/rigSpec';
import { equalise, unitResponse } from '../../lib/rig/unitResponse';
// scipy.signal.freqs and scipy.signal.butter, scipy 1.10.1; script beside the values
import reference from '../reference/rigFilters.json';

const flat: Equaliser = { kind: 'flat' };
const open = { hz: 1e12, order: 2 as const };
const unit = (parts: Partial<UnitSpec>): UnitSpec => ({
  device: 'u',
  highPass: [{ f0Hz: 27, q: 0.66 }],
  lowPass: { hz: 170, order: 4 },
  sensitivityDb: 80,
  ...parts,
});

function expectLike(actual: (hz: number) => { db: number; deg: number }, wanted: { db: number[]; deg: number[] }) {
  reference.hz.forEach((hz, i) => {
    const { db, deg } = actual(hz);
    expect(db).toBeCloseTo(wanted.db[i], 6);
    const turn = (deg - wanted.deg[i]) / 360;
    expect(Math.abs(turn - Math.round(turn)) * 360).toBeLessThan(1e-6);
  });
}

describe('the linear unit', () => {
  it('is a second-order high-pass and a Butterworth low-pass when sealed', () => {
    expectLike((hz) => unitResponse(unit({}), flat, hz), reference.sealed);
  });

  it('is a fourth-order high-pass when vented', () => {
    const vented = unit({
      highPass: [
        { f0Hz: 20, q: 0.6 },
        { f0Hz: 22, q: 1.2 },
      ],
      lowPass: { hz: 120, order: 2 },
    });
    expectLike((hz) => unitResponse(vented, flat, hz), reference.vented);
  });

  it('becomes the fourth-order Butterworth for the qualities of its two sections', () => {
    const [q1, q2] = [1 / (2 * Math.cos(Math.PI / 8)), 1 / (2 * Math.sin(Math.PI / 8))];
    const b4 = unit({
      highPass: [
        { f0Hz: 25, q: q1 },
        { f0Hz: 25, q: q2 },
      ],
      lowPass: open,
    });
    expectLike((hz) => unitResponse(b4, flat, hz), reference.butterworth4);
    expect(unitResponse(b4, flat, 25).db).toBeCloseTo(-3.0103, 3);
    expect(unitResponse(b4, flat, 2).db - unitResponse(b4, flat, 1).db).toBeCloseTo(24.08, 1);
  });

  it('falls by 3 dB at the frequency that sealed-box alignments have in the tables', () => {
    // f3/fc = 1.554, 1.272, 1, 0.786 for Q = 0.5, 0.577, 0.707, 1 (closed-box design tables)
    for (const [q, ratio] of [
      [0.5, 1.554],
      [1 / Math.sqrt(3), 1.272],
      [Math.SQRT1_2, 1],
      [1, 0.786],
    ]) {
      const sealed = unit({ highPass: [{ f0Hz: 30, q }], lowPass: open });
      expect(Math.abs(unitResponse(sealed, flat, 30 * ratio).db + 3.0103)).toBeLessThan(0.01);
    }
  });
});

describe('the switch', () => {
  it('is a shelf of first or second order', () => {
    expectLike((hz) => equalise({ kind: 'shelf', hz: 24, gainDb: -5, order: 1 }, hz), reference.shelf1);
    expectLike((hz) => equalise({ kind: 'shelf', hz: 24, gainDb: 6, order: 2 }, hz), reference.shelf2);
  });

  it('can be several stages one after the other', () => {
    const stages: Equaliser[] = [
      { kind: 'shelf', hz: 30, gainDb: 4, order: 1 },
      { kind: 'shelf', hz: 20, gainDb: -3, order: 2, q: 0.6 },
    ];
    expectLike((hz) => equalise({ kind: 'chain', stages }, hz), reference.chain);
  });

  it('does half of its gain at its corner, all far below and nothing far above', () => {
    for (const order of [1, 2] as const) {
      for (const gainDb of [-8, 3, 9]) {
        const shelf: Equaliser = { kind: 'shelf', hz: 31, gainDb, order };
        expect(equalise(shelf, 31).db).toBeCloseTo(gainDb / 2, 10);
        expect(equalise(shelf, 0.01).db).toBeCloseTo(gainDb, 4);
        expect(equalise(shelf, 31e3).db).toBeCloseTo(0, 4);
      }
    }
  });
});
