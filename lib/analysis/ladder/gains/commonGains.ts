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
/** Where among the bands' gains over one step the uncompressed ones lie: compression only ever lowers a gain. */
const UPPER = 0.8;

/**
 * Find the gain from rung to rung that the bands which do not compress have in common.
 *
 * @param cells the ladder. @param references rung of each band to start at.
 *
 * Notes: level = offset of the band + gain of the rung, by weighted least squares over the cells that have lost nothing;
 * starts from the upper part of the bands' steps, then leaves out each band from the rung on where it falls behind the
 * others, and fits again until nothing changes. What a whole run is too loud or too soft by is part of its gain,
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
  let gains: Gains = { gainDb: upperGains(cells, usable), covariance: [] };
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

function upperGains({ levelDb, bandsHz }: Cells, usable: boolean[][]): number[] {
  const gains = usable.map(() => Number.NaN);
  for (let rung = 1; rung < gains.length; rung++) {
    const steps = bandsHz
      .map((_, band) =>
        usable[rung - 1][band] && usable[rung][band] ? levelDb[rung][band] - levelDb[rung - 1][band] : Number.NaN,
      )
      .filter(Number.isFinite)
      .sort((a, b) => a - b);
    if (steps.length === 0) continue;
    if (Number.isNaN(gains[rung - 1])) gains[rung - 1] = 0;
    gains[rung] = gains[rung - 1] + steps[Math.round(UPPER * (steps.length - 1))];
  }
  return gains;
}

/** Follow each band up from its reference rung until it falls behind. */
function uncompressed(cells: Cells, usable: boolean[][], gainDb: number[], cellScatterDb: number): boolean[][] {
  const active = table(gainDb.length, cells.bandsHz.length, () => false);
  cells.bandsHz.forEach((_, band) => {
    let weights = 0;
    let offset = 0;
    for (let rung = 0; rung < gainDb.length; rung++) {
      if (!usable[rung][band] || Number.isNaN(gainDb[rung])) {
        if (weights > 0) return;
        continue;
      }
      const variance = cellVariance(cells, rung, band, cellScatterDb);
      const here = cells.levelDb[rung][band] - gainDb[rung];
      if (weights > 0) {
        const limit = Math.max(LEAST_LOSS_DB, SIGMAS * Math.sqrt(1 / weights + variance));
        if (offset / weights - here > limit) return;
      }
      weights += 1 / variance;
      offset += here / variance;
      active[rung][band] = true;
    }
  });
  return active;
}
