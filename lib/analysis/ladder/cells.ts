import type { Curve } from '../../model/curve';

/** dB^2 of level variance for each unit of noise-to-signal power: (20/ln 10)^2 / 2. */
export const DB2_PER_RATIO = (20 / Math.LN10) ** 2 / 2;

/** One drive level: the run made at it, or several that were repeated. */
export interface Rung {
  id: string;
  label: string;
  driveDb: number;
  /** One curve, or the repeats, in the order of their ids. */
  curves: Curve[];
}

/** What the noise is in one band, as far as it is known. */
export interface BandNoise {
  /** Mean power over the band; NaN where unknown. */
  power: number;
  /** How many independent points that mean rests on. */
  points: number;
  /** How many neighbouring points move together, >= 1. */
  dependence: number;
}

/** The ladder as numbers: [rung][band], NaN where unknown. */
export interface Cells {
  bandsHz: number[];
  /** Drive above the lowest rung, dB. */
  driveDb: number[];
  /** Band level with the noise power taken off. */
  levelDb: number[][];
  snrDb: number[][];
  /** Standard deviation of the estimated signal-to-noise ratio, dB. */
  snrErrorDb: number[][];
  /** Standard deviation of the level that the noise causes, dB. */
  errorDb: number[][];
}

/** A [rung][band] table filled by a function. */
export function table<T>(rungs: number, bands: number, value: (rung: number, band: number) => T): T[][] {
  const rows: T[][] = [];
  for (let rung = 0; rung < rungs; rung++) {
    const row: T[] = [];
    for (let band = 0; band < bands; band++) row.push(value(rung, band));
    rows.push(row);
  }
  return rows;
}

/** One column of a [rung][band] table. */
export function column<T>(rows: T[][], band: number): T[] {
  return rows.map((row) => row[band]);
}

/** Some rungs of a ladder; drives stay above the lowest rung of all. */
export function pickRungs(cells: Cells, rungs: number[]): Cells {
  const pick = <T>(rows: T[]): T[] => rungs.map((rung) => rows[rung]);
  return {
    bandsHz: cells.bandsHz,
    driveDb: pick(cells.driveDb),
    levelDb: pick(cells.levelDb),
    snrDb: pick(cells.snrDb),
    snrErrorDb: pick(cells.snrErrorDb),
    errorDb: pick(cells.errorDb),
  };
}

/** Rows of some rungs put back among all; the others get `other`. */
export function spread<T>(rows: T[], rungs: number[], count: number, other: T): T[] {
  const all = new Array<T>(count).fill(other);
  rungs.forEach((rung, i) => {
    all[rung] = rows[i];
  });
  return all;
}
