import { describe, expect, it } from 'vitest';
import { estimateExposure } from '../../lib/analysis/exposure/estimateExposure';
import { isDoubted } from '../../lib/model/caveat';
import { makeCurve } from '../../lib/model/makeCurve';
import { findingsSchema } from '../../lib/model/schemas';
import { weightingDb } from '../../lib/signal/weighting';
import { exposureSource } from '../../lib/words/exposureSource';

const frequencyHz = Array.from({ length: 600 }, (_, i) => 5 * 1.008 ** i);
const spl = (levelOf: (hz: number) => number, label = 'run 1') =>
  makeCurve({ frequencyHz, levelDb: frequencyHz.map(levelOf), scale: 'spl', label });

describe('the exposure', () => {
  it('that was said is taken, with the time of the NIOSH table', () => {
    // NIOSH 98-126, table 1-1 (from memory): 94 dBA an hour, 100 dBA 15 minutes
    expect(estimateExposure({ levelDba: 94 })).toMatchObject({ levelDba: 94, levelDbc: null, permittedSeconds: 3600 });
    const loud = estimateExposure({ levelDba: 100, measuredSeconds: 1000 });
    expect(loud.permittedSeconds).toBeCloseTo(900, 6);
    expect(loud.caveats[0]).toMatchObject({ code: 'exposure-over', severity: 'doubt' });
    expect(isDoubted(estimateExposure({ levelDba: 100, measuredSeconds: 800 }))).toBe(false);
  });

  it('of a sweep is the mean over its time: equal time for each octave', () => {
    // what A-weighting makes flat is at one level all the time
    const even = estimateExposure({ curves: [spl((hz) => 90 - weightingDb('A', hz))] });
    expect(even.levelDba).toBeCloseTo(90, 9);
    expect(even.loudestDba).toBeCloseTo(90, 9);
    // half of the octaves at 94 dBA and half next to silent: half of the power, 10 lg 2 less
    const middle = Math.sqrt(frequencyHz[0] * frequencyHz[599]);
    const half = estimateExposure({ curves: [spl((hz) => (hz < middle ? 94 : 0) - weightingDb('A', hz))] });
    expect(half.levelDba).toBeCloseTo(94 - 10 * Math.log10(2), 2);
    expect(half.loudestDba).toBeCloseTo(94, 9);
    expect(half.permittedSeconds! / 3600).toBeCloseTo(2, 1);
  });

  it('shows by C what A hides', () => {
    // IEC 61672-1, table 3 (from memory): at 20 Hz A takes 50.5 dB, C 6.2 dB (19.95 Hz)
    const low = makeCurve({ frequencyHz: [10 ** 1.3, 10 ** 1.3 + 1e-6], levelDb: [110, 110], scale: 'spl' });
    const found = estimateExposure({ curves: [low] });
    expect(Math.abs(found.levelDba! - 59.5)).toBeLessThan(0.06);
    expect(Math.abs(found.levelDbc! - 103.8)).toBeLessThan(0.06);
    expect(found.caveats.map(({ code }) => code)).toEqual([
      'exposure-at-microphone',
      'exposure-sweeps-only',
      'exposure-low-bass',
      'exposure-rules',
    ]);
  });

  it('of several runs is that of the loudest, and says where it was read', () => {
    const found = estimateExposure({ curves: [spl(() => 80), spl(() => 100, 'run 7'), spl(() => 90)] });
    expect(found.from).toEqual({ dba: 'sweep', dbc: 'sweep', run: 'run 7', runs: 3 });
    expect(exposureSource(found.from)).toBe('from run 7, the loudest of 3 sweeps, at the microphone');
    expect(found.caveats[0]).toMatchObject({ code: 'exposure-at-microphone', values: { lowHz: 5 } });
    const both = estimateExposure({ curves: [spl(() => 100)], levelDba: 70 });
    expect(both.levelDba).toBe(70);
    expect(both.levelDbc).toBeGreaterThan(90);
    expect(both.from).toMatchObject({ dba: 'stated', dbc: 'sweep', run: 'run 1' });
  });

  it('is not known where nothing is, or nothing in SPL', () => {
    const none = { levelDba: null, levelDbc: null, permittedSeconds: null, from: { dba: null, dbc: null, run: null } };
    expect(estimateExposure()).toMatchObject(none);
    const relative = estimateExposure({ curves: [makeCurve({ frequencyHz: [20, 40], levelDb: [-20, -20] })] });
    expect(relative).toMatchObject(none);
    expect(relative.caveats[0].code).toBe('exposure-not-calibrated');
    const harmonic = makeCurve({ ...spl(() => 100), role: 'harmonic' });
    expect(estimateExposure({ curves: [harmonic] })).toMatchObject(none);
  });

  it('refuses what is no number, and fits the published schema', () => {
    expect(() => estimateExposure({ levelDba: Number.NaN })).toThrow(
      expect.objectContaining({ code: 'exposure-level' }),
    );
    expect(() => estimateExposure({ measuredSeconds: -1 })).toThrow(expect.objectContaining({ code: 'exposure-time' }));
    const exposure = estimateExposure({ curves: [spl(() => 100)], measuredSeconds: 60 });
    expect(() => findingsSchema.parse({ exposure })).not.toThrow();
  });
});
