import { type Cells, table } from '../cells';
import { REFERENCE_SNR_DB } from '../read/findReferences';
import { arrivingBands } from './arrivingBands';
import { cellVariance } from './cellVariance';
import { extraScatter } from './extraScatter';
import { fitGains, type Gains } from './fitGains';

/** What the bands that do not compress have in common. */
export interface CommonGains extends Gains {
  /** [rung][band]: no loss against the other bands up to here. */
  active: boolean[][];
  /** Scatter of single cells beyond what the noise explains (standard deviation), dB. */
  cellScatterDb: number;
}

/** A loss smaller than this never counts, dB; and how many standard deviations it must exceed. */
const LEAST_LOSS_DB = 0.06;
const SIGMAS = 2.5;
const ROUNDS = 8;
/** ... to fall behind; to run ahead (expansion), dB and standard deviations. */
const LEAST_EXTRA_DB = 0.3;
const EXTRA_SIGMAS = 3.5;
/** Where among the bands' gains over one step the uncompressed ones lie, since compression only ever lowers a gain; unless that is more than was commanded, dB. */
const UPPER = 0.8;
const EXPANSION_DB = 0.2;
/** Bands whose steps lie within this belong together, dB, and a step of which this is missing is half as likely as a full one. */
const NEAR_DB = 0.25;
const MISSING_DB = 0.3;

/**
 * Find the gain from rung to rung that the bands which do not compress have in common.
 *
 * @param cells the ladder. @param references rung of each band to start at.
 *
 * Notes: level = offset of the band + gain of the rung, by weighted least squares over the cells that have lost nothing;
 * starts from where most bands' steps lie together, near what was commanded, then leaves out each band from the rung on
 * where it falls behind the others or runs ahead of them, and fits again until nothing changes. What a whole run is too loud or too soft by is part of its gain,
 * so it hides no loss of single bands; a loss common to all bands cannot be seen here.
 */
export function commonGains(cells: Cells, references: (number | null)[]): CommonGains {
  const full = arrivingBands(cells, references);
  const usable = table(cells.driveDb.length, cells.bandsHz.length, (rung, band) => {
    const from = references[band];
    const snr = cells.snrDb[rung][band];
    return (
      full[band] &&
      from !== null &&
      rung >= from &&
      !(snr < REFERENCE_SNR_DB) &&
      Number.isFinite(cells.levelDb[rung][band])
    );
  });
  let gains: Gains = { gainDb: commonSteps(cells, usable), covariance: [] };
  let cellScatterDb = 0.2; // the first gains are rough
  let active = uncompressed(cells, usable, gains.gainDb, cellScatterDb);
  for (let round = 0; round < ROUNDS; round++) {
    gains = fitGains(cells, active, cellScatterDb);
    cellScatterDb = extraScatter(cells, active, gains.gainDb);
    const next = uncompressed(cells, usable, gains.gainDb, cellScatterDb);
    const same = next.every((row, rung) => row.every((on, band) => on === active[rung][band]));
    active = next;
    if (same) break;
  }
  return { ...gains, active, cellScatterDb };
}

/** Of each step, the gain of the bands that arrive in full; where some expand, that which most bands share, near what was commanded. */
function commonSteps({ levelDb, bandsHz, driveDb }: Cells, usable: boolean[][]): number[] {
  const gains = usable.map(() => Number.NaN);
  for (let rung = 1; rung < gains.length; rung++) {
    const stepDb = driveDb[rung] - driveDb[rung - 1];
    const offs = bandsHz.flatMap((_, band) =>
      usable[rung - 1][band] && usable[rung][band] ? [levelDb[rung][band] - levelDb[rung - 1][band] - stepDb] : [],
    );
    if (offs.length === 0) continue;
    const near = (at: number) => offs.filter((off) => Math.abs(off - at) <= NEAR_DB);
    const weight = (at: number) =>
      offs.reduce((sum, off) => sum + Math.max(0, 1 - Math.abs(off - at) / (2 * NEAR_DB)), 0) /
      (1 + (at / (MISSING_DB + 0.1 * stepDb)) ** 2);
    const upper = [...offs].sort((a, b) => a - b)[Math.round(UPPER * (offs.length - 1))];
    const most = offs.reduce((best, at) => (weight(at) > weight(best) ? at : best));
    const found = near(upper > EXPANSION_DB ? most : upper);
    if (Number.isNaN(gains[rung - 1])) gains[rung - 1] = 0;
    gains[rung] = gains[rung - 1] + stepDb + found.reduce((sum, off) => sum + off, 0) / found.length;
  }
  return gains;
}

/** Follow each band up from its reference rung until it falls behind or runs ahead. */
function uncompressed(cells: Cells, usable: boolean[][], gainDb: number[], cellScatterDb: number): boolean[][] {
  const active = table(gainDb.length, cells.bandsHz.length, () => false);
  cells.bandsHz.forEach((_, band) => {
    let weights = 0;
    let offset = 0;
    let start = 0;
    for (let rung = 0; rung < gainDb.length; rung++) {
      if (!usable[rung][band] || Number.isNaN(gainDb[rung])) {
        if (weights > 0) return;
        continue;
      }
      const variance = cellVariance(cells, rung, band, cellScatterDb);
      const here = cells.levelDb[rung][band] - gainDb[rung];
      if (weights > 0) {
        const deviation = Math.sqrt(1 / weights + variance);
        const behind = offset / weights - here;
        if (behind > Math.max(LEAST_LOSS_DB, SIGMAS * deviation)) return;
        const extra = Math.max(LEAST_EXTRA_DB, EXTRA_SIGMAS * deviation);
        const given = cells.levelDb[rung][band] - cells.driveDb[rung] - start;
        if (-behind > extra && given > extra) return;
      }
      if (weights === 0) start = cells.levelDb[rung][band] - cells.driveDb[rung];
      weights += 1 / variance;
      offset += here / variance;
      active[rung][band] = true;
    }
  });
  return active;
}
