import { describe, expect, it } from 'vitest';
import { trustOfDifference } from '../../../lib/analysis/conclusions/trustOfDifference';
import type { SettingDifference } from '../../../lib/model/findings';
import { makeCurve } from '../../../lib/model/makeCurve';
import { makeCaveat } from '../../../lib/words/makeCaveat';
import { difference } from './session';

const HZ = Array.from({ length: 241 }, (_, i) => 8 * 2 ** (i / 48));
const changed = (more: Partial<SettingDifference>): SettingDifference => ({
  ...(difference() as SettingDifference),
  caveats: [],
  at: [],
  ...more,
});
const trustedOf = (trust: (hz: number) => boolean, hz: number[]): number[] => hz.filter(trust);

describe('a difference of settings', () => {
  it('is not trusted where a run that was compared is limited, though both stand clear of the noise', () => {
    const limited = makeCaveat('setting-limited', 'doubt', { setting: 'deep' }, { bandsHz: [15.849, 19.953] });
    const trust = trustOfDifference(changed({ caveats: [limited] }), [], []);
    expect(trustedOf(trust, [12.5, 16, 20, 25, 40])).toEqual([12.5, 25, 40]);
  });

  it('is judged by the runs that were compared, whatever others of their settings are like', () => {
    const run = (drive: number, noiseUpTo: number) =>
      makeCurve({
        frequencyHz: HZ,
        levelDb: HZ.map(() => 80 + drive),
        noiseDb: HZ.map((hz) => (hz < noiseUpTo ? 78 : 20)),
        about: { setting: 'deep', driveDb: drive },
      });
    const [quiet, compared] = [run(0, 60), run(3, 14)];
    const runs = { a: { curve: compared.id, driveDb: 3 }, b: { curve: 'not at hand', driveDb: 3 } };
    const trust = trustOfDifference(changed({ runs }), [quiet, compared], []);
    expect(trustedOf(trust, [10, 12, 20, 40, 100])).toEqual([20, 40, 100]);
  });

  it('keeps what lies below a value that alone is not trusted', () => {
    const at = [16, 20, 31.5].map((frequencyHz) => ({ frequencyHz, differenceDb: 3, trusted: frequencyHz < 30 }));
    const trust = trustOfDifference(changed({ at }), [], []);
    expect(trustedOf(trust, [16, 20, 31.5, 40])).toEqual([16, 20, 40]);
  });
});
