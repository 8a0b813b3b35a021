import { type Cells, table } from '../cells';
import { cellVariance } from './cellVariance';
import { solvePositive } from './solvePositive';

/** Gains of whole rungs. */
export interface Gains {
  /** By rung, dB, up to a constant; NaN where no band that does not compress joins it to the others. */
  gainDb: number[];
  /** Covariance of those gains by noise about their mean, dB^2. */
  covariance: number[][];
}

/**
 * Fit level = offset of the band + gain of the rung to some cells, by weighted least squares.
 *
 * @param active [rung][band], the cells to be used; those of a band are neighbours.
 *
 * Notes: normal equations with the offsets eliminated; the gain of the lowest joined rung is 0.
 */
export function fitGains(cells: Cells, active: boolean[][], cellScatterDb: number): Gains {
  const rungs = active.length;
  const matrix = table(rungs, rungs, () => 0);
  const right = new Array<number>(rungs).fill(0);
  cells.bandsHz.forEach((_, band) => {
    const on = active.flatMap((row, rung) => (row[band] ? [rung] : []));
    if (on.length < 2) return;
    const weight = on.map((rung) => 1 / cellVariance(cells, rung, band, cellScatterDb));
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
