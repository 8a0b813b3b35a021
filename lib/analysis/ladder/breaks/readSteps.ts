import { median } from '../../fitting/median';
import type { Cells } from '../cells';

/** What one step of drive does, beside what a unit can do. */
export interface StepFit {
  /** Rungs below and above. */
  from: number;
  to: number;
  /** Level difference less drive difference, by band; NaN where noise hides it. */
  offDb: number[];
  /** Bands in which no unit does that. */
  unfit: number[];
  /** Whether too many bands are unfit for the two rungs to belong together. */
  fits: boolean;
  /** How badly it fits: mean over bands of squared sigmas, limited. */
  cost: number;
}

/** Cells nearer to the noise say nothing here, dB. */
const WANTED_SNR_DB = 10;
/** Noise of a cell whose noise is not known (standard deviation), dB. */
const UNKNOWN_ERROR_DB = 0.3;
/**
 * A step is unfit as a whole by so many standard deviations of whole runs, a band by so many of its own and so many dB.
 * Set so that none of 400 simulated ladders whose runs scatter by 0.1 dB (with and without limits) shows a break.
 */
const SIGMAS = 4.5;
const BAND_DB = 1;
const FAR_DB = 2;
/** Share of the bands that must be unfit: by 1 dB, and by 2 dB. Four bands of ten that expand by 1.5 dB are no break. */
const MANY = 0.4;
const SOME = 0.2;
const FEWEST_BANDS = 3;
/** A level may fall by so much while drive rises: limiters give back a little, dB. */
export const FALL_DB = 0.3;
const MOST_COST = 25;

/**
 * Hold each step of a row of rungs against what a unit can do with rising drive: it gives all of the step or less, never
 * more, less and less from step to step, and its level does not fall.
 *
 * @param cells levels over drive. @param row indices of the rungs that are to fit each other, rising.
 * @param scatterDb of whole runs, standard deviation. @param extraShare share by which all steps arrive larger.
 * @param copies of each rung: whether it holds the numbers of the rung before.
 */
export function readSteps(
  cells: Cells,
  row: number[],
  scatterDb: number,
  extraShare: number,
  copies: boolean[],
): StepFit[] {
  const before = cells.bandsHz.map(() => ({ share: extraShare, stepDb: 0, error: 0 }));
  return row.slice(1).map((to, t) => {
    const from = row[t];
    const stepDb = cells.driveDb[to] - cells.driveDb[from];
    const offDb = cells.bandsHz.map((_, band) => stepOff(cells, from, to, band));
    const excess: number[] = [];
    const sigmas: number[] = [];
    const unfit: number[] = [];
    let far = 0;
    let cost = 0;
    offDb.forEach((off, band) => {
      if (Number.isNaN(off)) return;
      const last = before[band];
      const error = Math.hypot(errorOf(cells, from, band), errorOf(cells, to, band));
      const ratio = last.stepDb > 0 && last.share < extraShare ? stepDb / last.stepDb : 0;
      const runs = scatterDb * Math.sqrt(2 + 2 * ratio + 2 * ratio ** 2);
      const sigma = Math.hypot(runs, error, ratio * last.error);
      // never more than the drive, never more of it than the step before
      const own = off - stepDb * Math.min(extraShare, last.share);
      const fall = -(off + stepDb) - FALL_DB;
      excess.push(Math.max(own / runs, fall / (scatterDb * Math.SQRT2)));
      const most = Math.max(own, fall);
      sigmas.push(error);
      cost += Math.min(MOST_COST, Math.max(0, most / sigma) ** 2);
      if (most > Math.max(BAND_DB, SIGMAS * sigma)) {
        unfit.push(band);
        if (most > Math.max(FAR_DB, SIGMAS * sigma)) far++;
      }
      before[band] = { share: off / stepDb, stepDb, error };
    });
    const count = excess.length;
    const noise = (1.25 * median(sigmas)) / Math.sqrt(count) / (scatterDb * Math.SQRT2);
    const together = count >= FEWEST_BANDS && median(excess) > SIGMAS * Math.hypot(1, noise);
    const many = unfit.length > Math.max(FEWEST_BANDS - 1, MANY * count);
    const some = far > Math.max(FEWEST_BANDS - 1, SOME * count);
    const copied = to === from + 1 && copies[to];
    return {
      from,
      to,
      offDb,
      unfit: together || copied ? offDb.flatMap((off, band) => (Number.isNaN(off) ? [] : [band])) : unfit,
      fits: !(together || many || some || copied),
      cost: copied ? MOST_COST : cost / Math.max(1, count),
    };
  });
}

/** Level difference less drive difference of two rungs; NaN where either is too near the noise. */
export function stepOff(cells: Cells, from: number, to: number, band: number): number {
  if (!isClear(cells, from, band) || !isClear(cells, to, band)) return Number.NaN;
  return cells.levelDb[to][band] - cells.levelDb[from][band] - (cells.driveDb[to] - cells.driveDb[from]);
}

/** Noise of a cell, standard deviation, dB. */
export function errorOf(cells: Cells, rung: number, band: number): number {
  const error = cells.errorDb[rung][band];
  return Number.isNaN(error) ? UNKNOWN_ERROR_DB : error;
}

/** Whether a cell says something here. */
export function isClear({ levelDb, snrDb }: Cells, rung: number, band: number): boolean {
  return Number.isFinite(levelDb[rung][band]) && !(snrDb[rung][band] < WANTED_SNR_DB);
}
