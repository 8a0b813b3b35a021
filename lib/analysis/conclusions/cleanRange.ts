import type { Distortion, SettingConclusion } from '../../model/findings';
import { nominalHz } from '../../model/octaves';
import { passedFromStart } from './passedFromStart';

type Pass = Distortion['passes'][number];

/** Each band left out at an end must raise the level by this much, dB, for the others to be told apart from it. */
const WORTH_DB = 3;

/** Range and level up to which every band stays below a percentage; `atLeast`: no band of it passed at that level. */
export type CleanRange = Omit<SettingConclusion['clean'][number], 'percent'>;

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
