import type { Distortion } from '../../model/findings';
import { nominalHz } from '../../model/octaves';
import { QUOTED_HZ } from './ceilingSentences';

type Pass = Distortion['passes'][number];

/** Whether a band is above a percentage already at the lowest rung that tells: it may have passed at any drive below. */
export function passedFromStart({ rungs, thdPercent, trusted }: Distortion, pass: Pass, band: number): boolean {
  const drive = pass.driveDb[band];
  if (!pass.reached[band] || drive === null) return false;
  // A crossing between two rungs lies at neither of them.
  const at = rungs.findIndex(({ driveDb }) => driveDb - rungs[0].driveDb === drive);
  const percent = at < 0 ? null : thdPercent[at][band];
  const isClean = (rung: number): boolean => trusted[rung][band] && (thdPercent[rung][band] ?? Infinity) < pass.percent;
  return percent !== null && percent > pass.percent && !rungs.slice(0, at).some((_, rung) => isClean(rung));
}

/** Where a percentage is passed first. */
export interface FirstPass {
  percent: number;
  hz: number;
  /** Above the quietest run. */
  driveDb: number;
  /** Of the fundamental. */
  levelDb: number | null;
  /** Drive and level may be lower. */
  atMost: boolean;
}

/** Where each percentage is passed first: band, drive, level of the fundamental there. */
export function firstPasses(distortion: Distortion): FirstPass[] {
  const { bandsHz, passes } = distortion;
  return passes.flatMap((pass) => {
    const { percent, driveDb, levelDb, reached } = pass;
    let first = -1;
    driveDb.forEach((drive, band) => {
      if (drive !== null && reached[band] && (first < 0 || drive < (driveDb[first] as number))) first = band;
    });
    if (first < 0) return [];
    return [
      {
        percent,
        hz: nominalHz(bandsHz[first]),
        driveDb: driveDb[first] as number,
        levelDb: levelDb[first],
        atMost: passedFromStart(distortion, pass, first),
      },
    ];
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
 * all bands from there up, rises most from one band to the next. Bands that are dirty from the start end a range; of
 * several ranges the one of most bands counts.
 *
 * @returns undefined where no band is known to be clean at any level.
 */
export function cleanRange(distortion: Distortion, pass: Pass): CleanRange | undefined {
  const known = longestClean(distortion, pass);
  if (known.length === 0) return undefined;
  const from = known.map((_, k) => known.slice(k).reduce((a, b) => (b.levelDb < a.levelDb ? b : a)));
  let start = 0;
  let rise = KNEE_DB;
  for (let k = 1; k <= known.length / 2; k++) {
    const step = k < known.length ? from[k].levelDb - from[k - 1].levelDb : 0;
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

/** Bands whose clean level is known, as many in a row as there are; bands that nothing is known of do not part a row. */
function longestClean(distortion: Distortion, pass: Pass): { hz: number; levelDb: number; atLeast: boolean }[] {
  const rows: { hz: number; levelDb: number; atLeast: boolean }[][] = [[]];
  distortion.bandsHz.forEach((hz, band) => {
    const levelDb = pass.levelDb[band];
    if (passedFromStart(distortion, pass, band)) rows.push([]);
    else if (levelDb !== null) rows[rows.length - 1].push({ hz: nominalHz(hz), levelDb, atLeast: !pass.reached[band] });
  });
  return rows.reduce((best, row) => (row.length > best.length ? row : best));
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
