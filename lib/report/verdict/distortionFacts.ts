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

/** Each band left out at an end must raise the level by this much, dB, for the others to be told apart from it. */
const WORTH_DB = 3;

/** Range and level up to which every band stays below a percentage. */
export interface CleanRange {
  lowHz: number;
  highHz: number;
  levelDb: number;
  /** No band of the range passed at that level: it may be higher. */
  atLeast: boolean;
}

/**
 * Say in one range and one level how clean the unit stays. Bands at either end are left out where that raises the level
 * by 3 dB a band, at most half of them, and those that it hardly plays always. Bands that are dirty from the start end a
 * range; of several the one of most bands counts.
 *
 * @returns undefined where no band is known to be clean at any level; `whole` holds for all bands that are played, where
 * some were left out that pass; those that never do are only less loud.
 */
export function cleanRange(distortion: Distortion, pass: Pass): { best: CleanRange; whole?: CleanRange } | undefined {
  const known = longestClean(distortion, pass);
  if (known.length === 0) return undefined;
  const whole = rangeOf(known);
  let best = { range: whole, worth: whole.levelDb };
  const least = Math.ceil(known.length / 2);
  for (let from = 0; from <= known.length - least; from++) {
    for (let to = from + least; to <= known.length; to++) {
      const range = rangeOf(known.slice(from, to));
      const worth = range.levelDb - WORTH_DB * (known.length - (to - from));
      if (worth > best.worth) best = { range, worth };
    }
  }
  return { best: best.range, ...(best.range !== whole && !whole.atLeast && { whole }) };
}

interface CleanBand {
  hz: number;
  levelDb: number;
  atLeast: boolean;
}

function rangeOf(bands: CleanBand[]): CleanRange {
  const { levelDb, atLeast } = bands.reduce((a, b) => (b.levelDb < a.levelDb ? b : a));
  return { lowHz: bands[0].hz, highHz: bands[bands.length - 1].hz, levelDb, atLeast };
}

/** A band this far below the loud ones is hardly played, dB: that it is clean says nothing. A choice, no source. */
const HARDLY_PLAYED_DB = 12;

/** First and last band that the unit really plays at its loudest, told from the loudest quarter of the bands. */
function playedBands({ bandsHz, levelDb }: Distortion): [from: number, to: number] {
  const loudest = bandsHz.map((_, band) => Math.max(...levelDb.map((row) => row[band] ?? Number.NEGATIVE_INFINITY)));
  const falling = [...loudest].sort((a, b) => b - a);
  const least = falling[Math.floor(falling.length / 4)] - HARDLY_PLAYED_DB;
  const isPlayed = (level: number) => level >= least;
  return [loudest.findIndex(isPlayed), loudest.findLastIndex(isPlayed)];
}

/** Bands whose clean level is known, as many in a row as there are; bands that nothing is known of do not part a row. */
function longestClean(distortion: Distortion, pass: Pass): CleanBand[] {
  const rows: CleanBand[][] = [[]];
  const [from, to] = playedBands(distortion);
  distortion.bandsHz.forEach((hz, band) => {
    const levelDb = pass.levelDb[band];
    if (band < from || band > to) return;
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
