import type { Distortion } from '../../model/findings';
import { nominalHz } from '../../model/octaves';
import { QUOTED_HZ } from './ceilingSentences';

/** Where each percentage is passed first: band, drive above the quietest run, level of the fundamental there. */
export function firstPasses({
  bandsHz,
  passes,
}: Distortion): { percent: number; hz: number; driveDb: number; levelDb: number | null }[] {
  return passes.flatMap(({ percent, driveDb, levelDb, reached }) => {
    let first = -1;
    driveDb.forEach((drive, band) => {
      if (drive !== null && reached[band] && (first < 0 || drive < (driveDb[first] as number))) first = band;
    });
    if (first < 0) return [];
    return [{ percent, hz: nominalHz(bandsHz[first]), driveDb: driveDb[first] as number, levelDb: levelDb[first] }];
  });
}

/** A rise of the clean level of this much, dB, parts the dirty bottom from the clean rest. */
const KNEE_DB = 3;

/** Range and level up to which every band stays below a percentage. */
export interface CleanRange {
  percent: number;
  lowHz: number;
  highHz: number;
  levelDb: number;
  /** No band of the range passed at that level: it may be higher. */
  atLeast: boolean;
  /** The level that holds with the bands below the range counted too, where there are any. */
  whole?: { lowHz: number; levelDb: number; atLeast: boolean };
}

/**
 * Say in one range and one level how clean the unit stays: the range begins where the level, counted as the lowest of
 * all bands from there up, rises most from one band to the next.
 *
 * @returns undefined where no band's level is known.
 */
export function cleanRange({ bandsHz }: Distortion, pass: Distortion['passes'][number]): CleanRange | undefined {
  const known = bandsHz.flatMap((hz, band) => {
    const levelDb = pass.levelDb[band];
    return levelDb === null ? [] : [{ hz: nominalHz(hz), levelDb, atLeast: !pass.reached[band] }];
  });
  if (known.length === 0) return undefined;
  const from = known.map((_, k) => known.slice(k).reduce((a, b) => (b.levelDb < a.levelDb ? b : a)));
  let start = 0;
  let rise = KNEE_DB;
  for (let k = 1; k <= known.length / 2; k++) {
    const step = from[k] === undefined ? 0 : from[k].levelDb - from[k - 1].levelDb;
    if (step > rise) [start, rise] = [k, step];
  }
  const { levelDb, atLeast } = from[start];
  return {
    percent: pass.percent,
    lowHz: known[start].hz,
    highHz: known[known.length - 1].hz,
    levelDb,
    atLeast,
    ...(start > 0 && { whole: { lowHz: known[0].hz, levelDb: from[0].levelDb, atLeast: from[0].atLeast } }),
  };
}

/** The loudest run most of whose THD can be trusted and whose capture is not bad; without one, the most trusted; -1 where no THD is known. */
export function loudestTrustedRung({ thdPercent, trusted }: Distortion, bad: boolean[]): number {
  const known = thdPercent.map((row) => row.filter((value) => value !== null).length);
  const sure = trusted.map((row, k) => row.filter((ok, band) => ok && thdPercent[k][band] !== null).length);
  for (let k = sure.length - 1; k >= 0; k--) if (known[k] > 0 && !bad[k] && sure[k] >= known[k] / 2) return k;
  const most = Math.max(...sure);
  const best = sure.lastIndexOf(most);
  if (most > 0) return best;
  return known.findLastIndex((count) => count > 0);
}

/** Trusted THD of a run in the bands that levels are quoted at. */
export function quotedThd(distortion: Distortion, rung: number): { hz: number; percent: number; band: number }[] {
  return QUOTED_HZ.flatMap((hz) => {
    const band = distortion.bandsHz.findIndex((centre) => nominalHz(centre) === hz);
    const percent = band < 0 ? null : distortion.thdPercent[rung][band];
    return percent === null || !distortion.trusted[rung][band] ? [] : [{ hz, percent, band }];
  });
}
