import { levelOf } from '../../model/decibel';
import type { DistortionCell } from './distortionCells';

/** Share of power that harmonics are taken to have at the least where noise hides them: half the amplitude. */
const LEAST_LEFT = 0.25;

/** Where THD of a band first passes a percentage. */
export interface Pass {
  /** Above the lowest rung; null where it never does. */
  driveDb: number | null;
  /** Level of the fundamental there; where it never passes, the highest at which it is known not to. */
  levelDb: number | null;
  reached: boolean;
  /** The lowest rung that shows anything passes already: it may have passed at any drive below. */
  fromStart: boolean;
}

/**
 * Find where THD of one band first passes a percentage: on straight lines between rungs, log % over drive.
 *
 * @param column the band's cells, lowest rung first. @param driveDb above the lowest rung. @param percent > 0.
 *
 * Notes: a rung passes where its trusted THD does. It is clean where it is trusted and below, or where harmonics and
 * noise together are below already; such a rung counts with what is left after the noise, and at least with half of
 * what harmonics and noise read. Rungs that say neither are passed over.
 */
export function findPass(column: DistortionCell[], driveDb: number[], percent: number): Pass {
  const limit = (percent / 100) ** 2;
  let before: number | undefined;
  let cleanest: number | null = null;
  for (let rung = 0; rung < column.length; rung++) {
    const { trusted, thd, most } = column[rung];
    if (trusted && thd >= limit) return passAt(column, driveDb, limit, before, rung);
    if (!(most < limit) && !trusted) continue;
    before = rung;
    cleanest = Math.max(cleanest ?? Number.NEGATIVE_INFINITY, levelOf(column[rung].fundamental));
  }
  return { driveDb: null, levelDb: cleanest, reached: false, fromStart: false };
}

function passAt(
  column: DistortionCell[],
  driveDb: number[],
  limit: number,
  before: number | undefined,
  rung: number,
): Pass {
  const levelAt = (at: number) => levelOf(column[at].fundamental);
  if (before === undefined) {
    return { driveDb: driveDb[rung], levelDb: levelAt(rung), reached: true, fromStart: true };
  }
  const { trusted, thd, most } = column[before];
  const from = Math.log(trusted ? thd : Math.max(thd, LEAST_LEFT * most));
  const part = (Math.log(limit) - from) / (Math.log(column[rung].thd) - from);
  const along = (of: (at: number) => number) => of(before) + part * (of(rung) - of(before));
  return { driveDb: along((at) => driveDb[at]), levelDb: along(levelAt), reached: true, fromStart: false };
}
