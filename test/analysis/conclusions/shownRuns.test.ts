import { describe, expect, it } from 'vitest';
import { conclude } from '../../../lib/analysis/conclusions/conclude';
import { deconvolved } from '../../deconvolved';
import { bandFitOf, capture, DEVICE, difference, ladderOf, limitedBottom, nearNoise, run, runs } from './session';

const deep = runs('deep');
const tight = runs('tight');

describe('the run that speaks for a setting', () => {
  it('is of one drive for all settings of a unit, where neither is limited', () => {
    // below −15 dB the one is lost in noise; from −12 dB on the other is limited
    const ladder = [
      ladderOf(deep, { trusted: (db) => db >= 9 }),
      ladderOf(tight, { lossDb: (db, hz) => (hz < 40 ? Math.max(0, db - 9) : 0) }),
    ];
    const { settings } = conclude([...deep, ...tight], { ladder });
    expect(settings.map(({ shown }) => [shown?.driveDb, shown?.why])).toEqual([
      [-15, 'equal drive'],
      [-15, 'equal drive'],
    ]);
  });

  it('is of the drive at which the settings were compared', () => {
    const runsOf = { a: { curve: deep[5].id, driveDb: -9 }, b: { curve: tight[5].id, driveDb: -9 } };
    const settingDifference = [{ ...difference(), runs: runsOf, matchedBy: 'drive' as const }];
    const { settings } = conclude([...deep, ...tight], {
      ladder: [ladderOf(deep), ladderOf(tight)],
      settingDifference,
    });
    expect(settings.map(({ shown }) => shown?.driveDb)).toEqual([-9, -9]);
  });

  it('is each its own where no drive is common, and of other units', () => {
    const odd = runs('tight', [-23, -20, -17]);
    const other = run('deep', -1, { device: 'Other unit' });
    const ladder = [ladderOf(deep), ladderOf(odd)];
    const { settings } = conclude([...deep, ...odd, other], { ladder });
    expect(settings.map(({ shown }) => shown?.why)).toEqual(['least compressed', 'least compressed', 'only run']);
  });

  it('does not come from a bad capture', () => {
    const bad = capture('bad', 'bad', { device: DEVICE, setting: 'deep', driveDb: -24 });
    const fromCapture = deep.map((curve, k) =>
      k === 0 ? { ...curve, steps: [deconvolved(bad.recording, { verdict: 'bad' })] } : curve,
    );
    const { settings } = conclude(fromCapture, { ladder: [ladderOf(deep)], captureQuality: [bad] });
    expect(settings[0].shown?.driveDb).toBe(-21);
  });

  it('is the quietest that nothing speaks against where there is no ladder', () => {
    const bandFit = deep.map((curve, k) =>
      bandFitOf(curve, k < 2 ? { caveats: [nearNoise('doubt', [[10, 20]])] } : {}),
    );
    expect(conclude(deep, { bandFit }).settings[0].shown).toMatchObject({ driveDb: -18, why: 'quietest trusted' });
    expect(conclude(deep, {}).settings[0].shown).toMatchObject({ driveDb: -24, why: 'quietest' });
  });

  it('is known from findings where there are no responses, and null where nothing is', () => {
    expect(conclude([], { bandFit: [bandFitOf(deep[3])] }).settings[0].shown).toMatchObject({ curve: deep[3].id });
    expect(conclude([], { ladder: [limitedBottom(deep)] }).settings[0].shown).toBeNull();
  });

  it('is the run whose range is quoted', () => {
    const bandFit = deep.map((curve, k) => bandFitOf(curve, { lowHz: 18 + k }));
    const ladder = [ladderOf(deep, { trusted: (db) => db >= 6 })];
    const { settings, headlines } = conclude(deep, { bandFit, ladder });
    expect(settings[0].shown?.driveDb).toBe(-18);
    expect(headlines[0].values.lowHz1).toBe(20);
  });
});
