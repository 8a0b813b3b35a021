import { isUnusable } from '../../model/caveat';
import type { Ladder } from '../../model/findings';
import { nominalHz } from '../../model/octaves';
import { FOLLOWS_DB } from '../ladder/read/followsDb';

/** Where nothing up to here can be trusted, the bottom is not known, Hz (nominal; the lowest band that loudness is quoted at). */
const BOTTOM_HZ = 20;
/** A loss that all bands share is told from here on, dB. */
const TOLD_DB = 1;
const HALF = 0.5;

/** Why it cannot be told where a unit limits. */
export type UnknownWhy = 'few rungs' | 'untrusted' | 'breaks' | 'noise unknown' | 'stuck' | 'bottom' | 'not shown';

/** What the ladder says of its limits; 'unknown' where no trusted level of its loudest rung bears out 'none'. */
export function extentOf(ladder: Ladder): Ladder['extent'] {
  const { extent, regions, rungs } = ladder;
  const isTold = extent === 'none' ? regions.length === 0 && isRisingAtTop(ladder) : regions.length > 0;
  return isUnusable(ladder) || rungs.length < 2 || !isTold ? 'unknown' : extent;
}

/** Whether most trusted bands of the loudest rung gained half of the last step or more: a loss they share (heat) is no limit. */
function isRisingAtTop(ladder: Ladder): boolean {
  const { bandsHz, rungs, trusted, compressionDb } = ladder;
  const top = lastToldRung(ladder);
  const known = bandsHz.flatMap((_, band) => {
    const lossDb = trusted[top]?.[band] ? (compressionDb[top]?.[band] ?? null) : null;
    if (lossDb === null) return [];
    const below = rungs.findLastIndex((_one, k) => k < top && compressionDb[k]?.[band] != null);
    if (lossDb < FOLLOWS_DB || below < 0) return [lossDb < FOLLOWS_DB];
    const stepDb = rungs[top].driveDb - rungs[below].driveDb;
    return [lossDb - (compressionDb[below][band] as number) < HALF * stepDb];
  });
  return known.length > 0 && known.filter(Boolean).length * 2 >= known.length;
}

/** A level nearer to the noise shows nothing, dB; less of a last step than this is held against a lower rung, dB; and a single band between two that tell may be hidden. */
const CLEAR_DB = 10;
const LAST_STEPS_DB = 1.5;
const GAP = 2;

/**
 * From where up the levels of the last steps show what a ladder that is not limited does; what lies below is not known.
 *
 * @returns nominal centre of the lowest band, Hz; null where that is 20 Hz or below.
 */
export function toldFromHz(ladder: Ladder): number | null {
  const { bandsHz, rungs, levelDb, snrDb } = ladder;
  const top = lastToldRung(ladder);
  const isClear = (rung: number, band: number) => levelDb[rung][band] !== null && (snrDb[rung][band] ?? 0) >= CLEAR_DB;
  const told = bandsHz.flatMap((_, band) => {
    const below = rungs.findLastIndex(
      (_one, k) => rungs[top].driveDb - rungs[k].driveDb >= LAST_STEPS_DB && isClear(k, band),
    );
    return below >= 0 && isClear(top, band) ? [band] : [];
  });
  const first = told.findLastIndex((band, k) => k === 0 || band - told[k - 1] > GAP);
  const hz = first < 0 ? null : nominalHz(bandsHz[told[first]]);
  return hz === null || hz <= BOTTOM_HZ ? null : hz;
}

/** What keeps the ladder from telling. */
export function unknownBecause(ladder: Ladder): UnknownWhy {
  const { rungs, trusted, breaks, snrFrom, caveats } = ladder;
  if (rungs.length < 3) return 'few rungs';
  if (breaks.length > 0) return 'breaks';
  if (caveats.some(({ code, severity }) => code === 'ladder-stuck' && severity !== 'remark')) return 'stuck';
  if (!trusted[rungs.length - 1]?.includes(true)) return snrFrom === 'unknown' ? 'noise unknown' : 'untrusted';
  const lowest = ladder.bandsHz.findIndex((_, band) => trusted[rungs.length - 1][band]);
  return nominalHz(ladder.bandsHz[lowest]) > BOTTOM_HZ ? 'bottom' : 'not shown';
}

/** Bands outside of all limiting regions, by what trusted levels of the loudest rung show of them. */
export interface BandsOutside {
  following: number[];
  /** With what each loses, dB. */
  losing: { bandHz: number; lossDb: number }[];
  /** How many bands lie outside, trusted or not. */
  of: number;
}

/** Tell the bands that follow the drive to the loudest rung from those that lose some of it, and from the unknown. */
export function bandsOutside(ladder: Ladder): BandsOutside {
  const { bandsHz, regions, trusted, compressionDb } = ladder;
  const top = lastToldRung(ladder);
  const outside = bandsHz
    .map((_, band) => band)
    .filter((band) => !regions.some(({ lowHz, highHz }) => bandsHz[band] >= lowHz && bandsHz[band] <= highHz));
  const following: number[] = [];
  const losing: BandsOutside['losing'] = [];
  for (const band of outside) {
    const lossDb = trusted[top]?.[band] ? (compressionDb[top]?.[band] ?? null) : null;
    if (lossDb === null) continue;
    if (lossDb < FOLLOWS_DB) following.push(nominalHz(bandsHz[band]));
    else losing.push({ bandHz: nominalHz(bandsHz[band]), lossDb });
  }
  return { following, losing, of: outside.length };
}

/** The most that all bands lose together, and at which drive; null where that is less than 1 dB. */
export function commonLossOf({ commonLossDb, rungs }: Ladder): { byDb: number; driveDb: number } | null {
  const byDb = Math.max(0, ...commonLossDb.map((db) => db ?? 0));
  return byDb < TOLD_DB ? null : { byDb, driveDb: rungs[commonLossDb.indexOf(byDb)].driveDb };
}

/** Index of the loudest rung of which anything can be trusted; the last where nothing can. */
export function lastToldRung(ladder: Ladder): number {
  return toldRungs(ladder).at(-1) ?? ladder.rungs.length - 1;
}

/** Indices of the rungs of which anything can be trusted. */
export function toldRungs({ rungs, trusted, compressionDb }: Ladder): number[] {
  return rungs.flatMap((_, k) =>
    trusted[k]?.some((sure, band) => sure && compressionDb[k][band] !== null) ? [k] : [],
  );
}
