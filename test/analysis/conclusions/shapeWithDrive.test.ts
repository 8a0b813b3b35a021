import { describe, expect, it } from 'vitest';
import { shapeWithDrive } from '../../../lib/analysis/conclusions/shapeWithDrive';
import type { Ladder } from '../../../lib/model/findings';
import { type LadderRule, ladderOf, limitedBottom, runs } from './session';

const curves = runs('deep');
const NONE = { curves: new Set<string>(), drivesDb: new Set<number>() };
const shapeOf = (rule: LadderRule, more: Partial<Ladder> = {}) => shapeWithDrive(ladderOf(curves, rule, more), NONE);

describe('shape with drive', () => {
  it('is kept where all trusted bands keep their level re the reference band', () => {
    expect(shapeOf({})).toMatchObject({ kind: 'kept', lowDriveDb: -24, highDriveDb: 0 });
    // all bands lose the same to heat: the shape is the same
    expect(shapeOf({ lossDb: (db) => db / 12 })?.kind).toBe('kept');
  });

  it('loses bottom where a limiter holds it while the rest grows', () => {
    const shape = shapeWithDrive(limitedBottom(curves), NONE);
    expect(shape?.kind).toBe('loses bottom');
    const at = (hz: number) => shape?.at.find(({ frequencyHz }) => frequencyHz === hz);
    expect(at(20)?.changeDb).toBeCloseTo(-12, 6);
    expect(at(31.5)?.changeDb).toBeCloseTo(0, 6);
  });

  it('gains bottom where the reference band gives way and the bottom does not', () => {
    expect(shapeOf({ lossDb: (db, hz) => (hz > 35 ? Math.max(0, db - 18) : 0) })?.kind).toBe('gains bottom');
  });

  it('bends where something else changes', () => {
    expect(shapeOf({ lossDb: (db, hz) => (hz > 90 ? Math.max(0, db - 12) : 0) })?.kind).toBe('bends');
  });

  it('is not known without trusted bands at the bottom, or in the reference band', () => {
    expect(shapeOf({ trusted: (_db, hz) => hz > 35 })?.kind).toBe('unknown');
    expect(shapeOf({ trusted: (_db, hz) => hz < 35 })?.kind).toBe('unknown');
    expect(shapeOf({ trusted: () => false })).toMatchObject({ kind: 'unknown' });
    expect(shapeWithDrive(ladderOf(runs('deep', [0])), NONE)?.kind).toBe('unknown');
    expect(shapeWithDrive(ladderOf(runs('deep', [-3, 0])), NONE)?.kind).toBe('unknown');
    expect(shapeWithDrive(ladderOf([]), NONE)).toBeNull();
  });

  it('is counted from a quiet run that is neither in the noise nor limited already', () => {
    // the bottom is known from +9 dB on, and limited from +12 dB on
    const shape = shapeOf({
      trusted: (db, hz) => db >= 9 || hz > 35,
      lossDb: (db, hz) => (hz < 22 ? Math.max(0, db - 12) : 0),
    });
    expect(shape).toMatchObject({ kind: 'loses bottom', lowDriveDb: -15 });
    // limited before it is known: no run shows what it was
    const hidden = shapeOf({
      trusted: (db, hz) => db >= 15 || hz > 35,
      lossDb: (db, hz) => (hz < 35 ? Math.max(0, db - 6) : 0),
    });
    expect(hidden?.kind).toBe('unknown');
  });

  it('is not counted across a break', () => {
    const { rungs } = ladderOf(curves);
    const breaks: Ladder['breaks'] = [
      { between: [rungs[6].id, rungs[7].id], offDb: -9, what: 'some bands', bandsHz: [16, 20] },
    ];
    // beyond the break the bottom is 9 dB down: another filter, not the drive
    const shape = shapeOf({ lossDb: (db, hz) => (db > 18 && hz < 22 ? 9 : 0) }, { breaks });
    expect(shape).toMatchObject({ kind: 'kept', highDriveDb: -6 });
  });

  it('passes over runs that come from bad captures', () => {
    const bad = { curves: new Set([curves[8].id]), drivesDb: new Set<number>() };
    const ladder = ladderOf(curves, { lossDb: (db, hz) => (db > 21 && hz < 22 ? 9 : 0) });
    expect(shapeWithDrive(ladder, bad)).toMatchObject({ kind: 'kept', highDriveDb: -3 });
  });
});
