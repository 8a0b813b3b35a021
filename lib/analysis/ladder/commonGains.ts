import { type Cells, table } from './cells';
import { REFERENCE_SNR_DB } from './findReferences';
import { solvePositive } from './solvePositive';

/** What the bands that do not compress have in common. */
export interface CommonGains {
  /** By rung, dB, up to a constant; NaN where no band that does not compress joins it to the others. */
  gainDb: number[];
  /** Covariance of those gains by noise about their mean, dB^2. */
  covariance: number[][];
  /** [rung][band]: no loss against the other bands up to here. */
  active: boolean[][];
  /** Scatter of single cells beyond what the noise explains (standard deviation), dB. */
  cellScatterDb: number;
}

/** A loss smaller than this never counts, dB; and how many standard deviations it must exceed. */
const LEAST_LOSS_DB = 0.06;
const SIGMAS = 2.5;
const ROUNDS = 8;
/** Share of a step, and dB beside it, that may be missing where nothing compresses: a wrong step and scatter. */
const ABOUT = 0.05;
const MISSING_DB = 0.25;
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
  const full = arriving(cells, references);
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

/** Bands whose first step above the reference rung is about what was commanded; all where there is no such band. */
function arriving({ bandsHz, driveDb, levelDb, errorDb }: Cells, references: (number | null)[]): boolean[] {
  const full = bandsHz.map((_, band) => {
    const from = references[band];
    if (from === null || from + 1 >= driveDb.length) return false;
    const step = driveDb[from + 1] - driveDb[from];
    const missing = step - (levelDb[from + 1][band] - levelDb[from][band]);
    const chance = SIGMAS * Math.hypot(errorDb[from][band] || 0, errorDb[from + 1][band] || 0);
    return missing <= ABOUT * step + Math.max(MISSING_DB, chance);
  });
  return full.some(Boolean) ? full : bandsHz.map(() => true);
}

type Gains = Pick<CommonGains, 'gainDb' | 'covariance'>;

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
      const variance = varianceOf(cells, rung, band, cellScatterDb);
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

/** Normal equations of level = offset(band) + gain(rung), the offsets eliminated, gain of the lowest joined rung 0. */
function fitGains(cells: Cells, active: boolean[][], cellScatterDb: number): Gains {
  const rungs = active.length;
  const matrix = table(rungs, rungs, () => 0);
  const right = new Array<number>(rungs).fill(0);
  cells.bandsHz.forEach((_, band) => {
    const on = active.flatMap((row, rung) => (row[band] ? [rung] : []));
    if (on.length < 2) return;
    const weight = on.map((rung) => 1 / varianceOf(cells, rung, band, cellScatterDb));
    const total = weight.reduce((sum, value) => sum + value, 0);
    const mean = on.reduce((sum, rung, i) => sum + weight[i] * cells.levelDb[rung][band], 0) / total;
    on.forEach((rung, i) => {
      matrix[rung][rung] += weight[i];
      right[rung] += weight[i] * (cells.levelDb[rung][band] - mean);
      on.forEach((other, j) => {
        matrix[rung][other] -= (weight[i] * weight[j]) / total;
      });
    });
  });
  const joined = longestChain(active);
  const free = joined.slice(1);
  const { solution, inverse } = solvePositive(
    free.map((rung) => free.map((other) => matrix[rung][other])),
    free.map((rung) => right[rung]),
  );
  const gainDb = active.map(() => Number.NaN);
  const covariance = table(rungs, rungs, () => 0);
  const centred = centre([joined.map(() => 0), ...inverse.map((row) => [0, ...row])]);
  joined.forEach((rung, i) => {
    gainDb[rung] = i === 0 ? 0 : solution[i - 1];
    joined.forEach((other, j) => {
      covariance[rung][other] = centred[i][j];
    });
  });
  return { gainDb, covariance };
}

/** Covariance about the mean of all, instead of about the first. */
function centre(covariance: number[][]): number[][] {
  const means = covariance.map((row) => row.reduce((sum, value) => sum + value, 0) / row.length);
  const mean = means.reduce((sum, value) => sum + value, 0) / means.length;
  return covariance.map((row, i) => row.map((value, j) => value - means[i] - means[j] + mean));
}

/** Neighbouring rungs that share an active band, the longest row of them. */
function longestChain(active: boolean[][]): number[] {
  let best: number[] = [];
  let chain: number[] = [];
  active.forEach((row, rung) => {
    const joins = rung > 0 && row.some((on, band) => on && active[rung - 1][band]);
    chain = joins ? [...chain, rung] : [rung];
    if (chain.length > best.length) best = chain;
  });
  return best.length > 1 ? best : [];
}

function extraScatter(cells: Cells, active: boolean[][], gainDb: number[]): number {
  const ratios: number[] = [];
  let expected = 0;
  cells.bandsHz.forEach((_, band) => {
    const on = active.flatMap((row, rung) => (row[band] && Number.isFinite(gainDb[rung]) ? [rung] : []));
    if (on.length < 3) return;
    const rest = on.map((rung) => cells.levelDb[rung][band] - gainDb[rung]);
    const mean = rest.reduce((sum, value) => sum + value, 0) / rest.length;
    on.forEach((rung, i) => {
      ratios.push(((rest[i] - mean) ** 2 * on.length) / (on.length - 1));
      expected += varianceOf(cells, rung, band, 0);
    });
  });
  if (ratios.length === 0) return 0;
  ratios.sort((a, b) => a - b);
  // the median of a squared normal deviate is 0.455 of its mean
  const seen = ratios[ratios.length >> 1] / 0.455;
  return Math.sqrt(Math.max(0, seen - expected / ratios.length));
}

/** Of a level, by noise and by what else scatters single cells; never below what rounding to 0.01 dB does. */
function varianceOf(cells: Cells, rung: number, band: number, cellScatterDb: number): number {
  const error = cells.errorDb[rung][band];
  return (Number.isNaN(error) ? 0 : error * error) + cellScatterDb ** 2 + 0.003 ** 2;
}
