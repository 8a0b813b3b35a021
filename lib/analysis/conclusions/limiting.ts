import { isUnusable } from '../../model/caveat';
import type { Ladder } from '../../model/findings';
import { nominalHz } from '../../model/octaves';

/** A band that lost less than this follows the drive, dB: the smallest onset that is commonly told. */
const FOLLOWS_DB = 1;

/** Why it cannot be told where a unit limits. */
export type UnknownWhy = 'few rungs' | 'untrusted' | 'breaks' | 'noise unknown' | 'not shown';

/** What the ladder's regions say together; 'unknown' where no trusted level of its loudest rung bears out 'none'. */
export function extentOf(ladder: Ladder): Ladder['extent'] {
  const { extent, regions, rungs } = ladder;
  if (isUnusable(ladder) || rungs.length < 2 || extent === 'unknown' || (regions.length === 0 && extent !== 'none'))
    return 'unknown';
  if (extent !== 'none') return extent;
  const { following, losing } = bandsOutside(ladder);
  return regions.length > 0 || following.length === 0 || losing.length > following.length ? 'unknown' : 'none';
}

/** What keeps the ladder from telling. */
export function unknownBecause(ladder: Ladder): UnknownWhy {
  const { rungs, trusted, breaks, snrFrom } = ladder;
  if (rungs.length < 3) return 'few rungs';
  if (breaks.length > 0) return 'breaks';
  if (!trusted[rungs.length - 1]?.includes(true)) return snrFrom === 'unknown' ? 'noise unknown' : 'untrusted';
  return 'not shown';
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

/** Index of the loudest rung of which anything can be trusted; the last where nothing can. */
export function lastToldRung({ rungs, trusted, compressionDb }: Ladder): number {
  const told = rungs.findLastIndex((_, k) => trusted[k]?.some((sure, band) => sure && compressionDb[k][band] !== null));
  return told < 0 ? rungs.length - 1 : told;
}
