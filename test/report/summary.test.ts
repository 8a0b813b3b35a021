import { describe, expect, it } from 'vitest';
import type { BandFit, Ladder, RollOff, RoomFeature, SettingDifference } from '../../lib/model/findings';
import { makeCurve } from '../../lib/model/makeCurve';
import {
  SUMMARY_LENGTH,
  summariseBandFit,
  summariseLadder,
  summariseRollOff,
  summariseRoomFeatures,
  summariseSettingDifference,
} from '../../lib/report/summary';

const range = (lowHz: number, highHz: number) => ({
  lowHz,
  highHz,
  octaves: Math.log2(highHz / lowHz),
  floorDb: 90,
  ceilingDb: 95,
});
const bandFit = (lowHz: number, highHz: number, heightDb = 5): BandFit => ({
  ...range(lowHz, highHz),
  curve: 'c',
  label: 'c',
  about: {},
  caveats: [],
  heightDb,
  masksHz: [],
  withoutMasks: range(lowHz, highHz),
  referenceDb: 94,
  points: [],
});
const rollOff = (f0Hz: number, slopeDbPerOctave: number, q: number | null): RollOff => ({
  curve: 'c',
  label: 'c',
  about: {},
  caveats: [],
  f0Hz,
  q,
  order: slopeDbPerOctave / 6,
  slopeDbPerOctave,
  rangeHz: [10, 100],
  rmsErrorDb: 0.3,
  alignment: 'Butterworth',
});
const ladder = (rungs: number, regions: Ladder['regions']): Ladder =>
  ({ rungs: Array.from({ length: rungs }, (_, k) => ({ id: `${k}`, label: '', driveDb: 3 * k })), regions }) as Ladder;
const feature = (kind: 'dip' | 'peak', belongsTo: RoomFeature['belongsTo']): RoomFeature =>
  ({ kind, belongsTo }) as RoomFeature;
const difference = (hingeHz: number | null, at: SettingDifference['at']): SettingDifference => ({
  a: 'a',
  b: 'b',
  kind: hingeHz === null ? 'other' : 'shelf',
  levelDb: null,
  matchedBy: 'drive',
  runs: { a: { curve: 'a', driveDb: 0 }, b: { curve: 'b', driveDb: 0 } },
  curve: makeCurve({ frequencyHz: [10], levelDb: [0] }),
  hingeHz,
  asymptoteDb: null,
  slopeDbPerOctave: null,
  at,
  caveats: [],
});

describe('summaries for a status line', () => {
  it('give the range of the run that speaks for a setting, of settings the widest', () => {
    expect(summariseBandFit([bandFit(18.24, 104.3)])).toBe('18.2–104 Hz in 5 dB');
    expect(summariseBandFit([bandFit(30, 90), bandFit(18.24, 104.3)])).toBe('30–90 Hz in 5 dB');
    const [deep, flat] = ['deep', 'flat'].map((setting) => ({ setting }));
    const fits = [
      { ...bandFit(30, 90), about: flat },
      { ...bandFit(18.24, 104.3), about: deep },
    ];
    expect(summariseBandFit(fits)).toBe('18.2–104 Hz in 5 dB, deep');
    expect(summariseBandFit([bandFit(18.24, 104.3, 4.5)])).toBe('18.2–104 Hz in 4.5 dB');
  });

  it('give corner and slope of the lowest roll-off, with Q where there is one', () => {
    expect(summariseRollOff([rollOff(18.9, 24, null)])).toBe('18.9 Hz, 24 dB/octave');
    expect(summariseRollOff([{ ...rollOff(18.9, 17.6, null), f0Hz: null, alignment: null }])).toBe(
      '18 dB/octave, no alignment',
    );
    expect(summariseRollOff([rollOff(40, 24, null), rollOff(31.2, 12, 0.712)])).toBe('31.2 Hz, Q 0.71, 12 dB/octave');
  });

  it('give the earliest limiting of a ladder, that nothing limits, or that it is not known', () => {
    const late = {
      lowHz: 56.2,
      highHz: 112.2,
      onsetDriveDb: 21,
      onsetToDriveDb: 21,
      ceilingDb: 110,
      kind: 'gradual' as const,
    };
    const early = {
      lowHz: 14.1,
      highHz: 28.2,
      onsetDriveDb: 12,
      onsetToDriveDb: 12,
      ceilingDb: 98,
      kind: 'limiter' as const,
    };
    expect(summariseLadder([ladder(9, [late, early])])).toBe('9 rungs, limits 14–28 Hz +12 dB');
    expect(summariseLadder([ladder(9, [early]), ladder(9, [])])).toBe('2 ladders, limits 14 Hz +12 dB');
    expect(summariseLadder([ladder(1, [])])).toBe('1 rung, limits unknown');
    expect(summariseLadder([{ ...ladder(9, []), extent: 'none' }])).toBe('9 rungs, no limiting seen');
  });

  it("count dips, peaks and how many of them are the room's", () => {
    expect(summariseRoomFeatures([feature('dip', 'room'), feature('dip', 'unknown'), feature('peak', 'room')])).toBe(
      '2 dips, 1 peak, 2 of the room',
    );
    expect(summariseRoomFeatures([])).toBe('no dips or peaks');
  });

  it('give the hinge and the lowest trusted difference of a switch', () => {
    const at = [
      { frequencyHz: 10, differenceDb: -9.04, trusted: false },
      { frequencyHz: 16, differenceDb: -6.21, trusted: true },
    ];
    expect(summariseSettingDifference([difference(32.1, at)])).toBe('hinge 32.1 Hz, \u22126.2 dB at 16 Hz');
    expect(summariseSettingDifference([difference(null, at)])).toBe('other change, \u22126.2 dB at 16 Hz');
    expect(summariseSettingDifference([difference(null, [])])).toBe('other change');
  });

  it('stay short whatever the numbers are, and never say NaN or undefined', () => {
    const huge = {
      lowHz: 1234.5,
      highHz: 19876,
      onsetDriveDb: -123,
      onsetToDriveDb: -123,
      ceilingDb: 0,
      kind: 'limiter' as const,
    };
    const all = [
      summariseBandFit(Array.from({ length: 1000 }, () => bandFit(1034.7, 20480, 12.5))),
      summariseRollOff([rollOff(1034.7, 123.4, 10.123)]),
      summariseLadder(Array.from({ length: 1000 }, () => ladder(100, [huge]))),
      summariseRoomFeatures(Array.from({ length: 10000 }, (_, k) => feature(k % 2 ? 'dip' : 'peak', 'room'))),
      summariseSettingDifference([difference(1234.5, [{ frequencyHz: 1010, differenceDb: -123.4, trusted: true }])]),
      summariseBandFit([]),
      summariseRollOff([]),
      summariseLadder([]),
      summariseRoomFeatures([]),
      summariseSettingDifference([]),
    ];
    for (const text of all) {
      expect(text.length).toBeGreaterThan(0);
      expect(text.length).toBeLessThanOrEqual(SUMMARY_LENGTH);
      expect(text).not.toMatch(/NaN|undefined|null/);
    }
  });
});
