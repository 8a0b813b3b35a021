import { median } from '../../fitting/median';
import type { Cells } from '../cells';
import { errorOf, FALL_DB, isClear } from './readSteps';

/** What a step of one band does, held against the step before. */
export interface StepOfBand {
  /** Gain of level less what the step before leads to expect, dB, without what the run is louder by as a whole; NaN where noise hides it. */
  offDb: number;
  /** How far that may be off by chance, dB. */
  allowedDb: number;
  /** By how much it is more than any unit gives, or falls further than any, beyond chance, dB; 0 where it is possible. */
  excessDb: number;
}

/** Steps of all bands from a rung to another; `before`: the rung that led to `from`, none for a step that should arrive in full. */
export type Expected = (before: number | undefined, from: number, to: number) => StepOfBand[];

/** A band is off from this on, dB ... */
const OFF_DB = 0.9;
/** ... and from so many standard deviations of noise and of what runs do to single cells, which is chance. */
const SIGMAS = 4;
const CELL_DB = 0.1;
/** A level may fall with a run that is softer as a whole as well, up to this, dB. */
const SOFTER_DB = 0.5;

/**
 * Hold steps of single bands against what is possible: with rising drive a band gives all of a step or less, never more of it
 * than of the step before, and does not fall.
 */
export function expectSteps(cells: Cells): Expected {
  const known = new Map<string, StepOfBand[]>();
  return (before, from, to) => {
    const key = `${before} ${from} ${to}`;
    const found = known.get(key) ?? readStep(cells, before, from, to);
    known.set(key, found);
    return found;
  };
}

/** By how much the difference of two cells of a band may be off by chance, dB. @param more another standard deviation, dB. */
export function chanceOf(cells: Cells, rungs: [number, number], band: number, more = 0): number {
  return SIGMAS * Math.hypot(errorOf(cells, rungs[0], band), errorOf(cells, rungs[1], band), more, CELL_DB);
}

function readStep(cells: Cells, before: number | undefined, from: number, to: number): StepOfBand[] {
  const { driveDb, levelDb, bandsHz } = cells;
  const rungs = before === undefined ? [from, to] : [before, from, to];
  const rise = driveDb[to] - driveDb[from];
  const riseBefore = before === undefined ? rise : driveDb[from] - driveDb[before];
  const off = bandsHz.map((_, band) => {
    if (!rungs.every((rung) => isClear(cells, rung, band))) return Number.NaN;
    const share = before === undefined ? 1 : Math.min(1, (levelDb[from][band] - levelDb[before][band]) / riseBefore);
    return levelDb[to][band] - levelDb[from][band] - Math.max(0, share) * rise;
  });
  const clear = off.filter(Number.isFinite);
  const whole = clear.length > 0 ? median(clear) : 0;
  return bandsHz.map((_, band) => {
    const offDb = off[band] - Math.max(0, whole);
    const led =
      before === undefined
        ? 0
        : (Math.hypot(errorOf(cells, before, band), errorOf(cells, from, band)) * rise) / riseBefore;
    const allowedDb = Math.max(OFF_DB, chanceOf(cells, [from, to], band, led));
    const fall = levelDb[from][band] - levelDb[to][band] - FALL_DB - Math.min(SOFTER_DB, Math.max(0, -whole));
    const excessDb = Math.max(0, Math.max(offDb, fall) - allowedDb);
    return { offDb, allowedDb, excessDb: Number.isNaN(offDb) ? 0 : excessDb };
  });
}
