import type { Curve, Interval } from '../../model/curve';
import { powerOf } from '../../model/decibel';
import type { SettingDifference } from '../../model/findings';
import { interpolate } from '../../model/interpolate';
import { makeCurve } from '../../model/makeCurve';
import { commonGrid } from '../../response/commonGrid';
import { smoothLevels } from '../../response/smoothLevels';
import { snrDb } from '../../response/snrDb';
import { median } from '../fitting/median';

/** Where runs of unknown drive are brought to one level, Hz: the usual reference band. */
export const REFERENCE_HZ: Interval = [40, 80];

export interface Subtracted {
  difference: Curve;
  /** What known noise makes each point scatter by, dB. */
  noiseScatterDb: number[];
  matchedBy: SettingDifference['matchedBy'];
  /** By how much the drives, or the levels in the reference band, differ, which is taken off. */
  takenOffDb: number;
}

/**
 * Subtract two settings on the grid of the first.
 *
 * @returns the difference a - b at equal drive; where the drive of only one is known, at equal level in the reference
 * band. @throws BassloomError `no-common-range`.
 */
export function subtract(a: Curve, b: Curve): Subtracted {
  const frequencyHz = commonGrid([a, b]);
  const onGrid = (curve: Curve, column: number[]) => interpolate(curve.frequencyHz, column, frequencyHz);
  const [driveA, driveB] = [a, b].map(({ about }) => about.driveDb);
  const matchedBy = (driveA === undefined) === (driveB === undefined) ? 'drive' : 'level';
  const [levelsA, levelsB] = [a, b].map((curve) => onGrid(curve, curve.levelDb));
  const rawDb = levelsA.map((level, i) => level - levelsB[i]);
  const takenOffDb = matchedBy === 'drive' ? (driveA ?? 0) - (driveB ?? 0) : referenceMean(frequencyHz, rawDb);
  const scatters = [a, b].map((curve) => onGrid(curve, noiseScatterDb(curve)));
  const { setting: _a, driveDb: _b, ...about } = a.about;
  const difference = makeCurve({
    frequencyHz,
    levelDb: rawDb.map((db) => db - takenOffDb),
    label: `${a.about.setting ?? a.label} less ${b.about.setting ?? b.label}`,
    about,
    steps: [{ did: 'difference', with: { a: a.label, b: b.label, idA: a.id, idB: b.id, drivenDb: takenOffDb } }],
  });
  return {
    difference,
    noiseScatterDb: frequencyHz.map((_, i) => Math.hypot(scatters[0][i], scatters[1][i])),
    matchedBy,
    takenOffDb,
  };
}

/** Median over the reference band, or over all where the curves do not reach it. */
function referenceMean(f: number[], db: number[]): number {
  const inside = db.filter((_, i) => f[i] >= REFERENCE_HZ[0] && f[i] <= REFERENCE_HZ[1]);
  return median(inside.length > 0 ? inside : db);
}

/** A complex Gaussian noise makes a level scatter by 10 / ln 10 * sqrt(2 / snr) dB. */
function noiseScatterDb(curve: Curve): number[] {
  const own = snrDb(curve);
  const around = own && snrDb({ levelDb: smoothed(curve, curve.levelDb), noiseDb: smoothed(curve, curve.noiseDb!) });
  if (!own || !around) return curve.frequencyHz.map(() => 0);
  // a bin of a dip is worse than its surroundings, a bin of noise may look better by chance
  return own.map((snr, i) => (10 / Math.LN10) * Math.sqrt(2 / powerOf(Math.max(-10, Math.min(snr, around[i])))));
}

const smoothed = ({ frequencyHz }: Curve, column: number[]) => smoothLevels(frequencyHz, column, 6);
