import { fitGainLine, type GainLine } from './fitGainLine';

/** What one run is taken to be off by as a whole before any is seen (standard deviation), dB ... */
export const EXPECTED_SCATTER_DB = 0.1;
/** ... weighing as much as so many runs. */
const EXPECTED_WEIGHT = 2;
/** With fewer rungs a straight line must do. */
const RUNGS_TO_BEND = 5;
/** How sharply a shared loss may set in; which it is the rungs decide, as far as they can. */
const SHARPNESS = [0.7, 1, 2, 4, 16];

/** The gain that bands without compression of their own share, as a line over drive. */
export interface SharedGain {
  /** The line that fits best. */
  line: GainLine;
  /** Gain per dB of drive where nothing is lost; the mean of all lines, by how well they fit. */
  slope: number;
  slopeError: number;
  /** What `slopeError` rests on. */
  freedom: number;
  /** Standard deviation of whole runs, dB. */
  scatterDb: number;
  /** Whether the runs show the shared loss beyond chance (two standard deviations). */
  bent: boolean;
}

/**
 * Fit the shared gain of some rungs, with a loss that all bands share and with what is not known about it.
 *
 * @param x drive, rising, dB. @param y gain, dB. @param noise covariance of the gains by noise, dB^2.
 *
 * Notes: each rung counts once, however many bands it has, since a run is too loud or too soft as a whole. Runs are
 * taken to scatter by 0.1 dB before any is seen, with the weight of two: it keeps three rungs from claiming too much
 * or nothing at all. How sharply a loss sets in is averaged over, by likelihood, and adds to the uncertainty.
 */
export function fitSharedGain(x: number[], y: number[], noise: number[][]): SharedGain {
  const mayBend = x.length >= RUNGS_TO_BEND;
  const kinds = mayBend ? SHARPNESS : [null];
  const free = x.length - (mayBend ? 3 : 2);
  const own = noise.reduce((sum, row, i) => sum + row[i], 0) / noise.length;
  const scatterOf = ({ squares }: GainLine) => (free > 0 ? Math.sqrt(Math.max(0, squares / free - own)) : 0);
  const weigh = (scatter: number) => noise.map((row, i) => 1 / (row[i] + scatter ** 2 + 1e-6));
  const rough = fitGainLine(x, y, weigh(1), mayBend ? 1 : null);
  const weights = weigh(scatterOf(rough));
  const lines = kinds.map((kind) => fitGainLine(x, y, weights, kind));
  const line = lines.reduce((best, other) => (other.squares < best.squares ? other : best));

  const freedom = free + EXPECTED_WEIGHT;
  const scatterDb = scatterOf(line);
  const runVariance = (free * scatterDb ** 2 + EXPECTED_WEIGHT * EXPECTED_SCATTER_DB ** 2) / freedom;
  const unbent = fitGainLine(x, y, weights, null);
  const likelihood = lines.map(({ squares }) => Math.exp((line.squares - squares) / (2 * (runVariance + own))));
  const total = likelihood.reduce((sum, value) => sum + value, 0);
  const mean = (of: (line: GainLine) => number) =>
    lines.reduce((sum, one, i) => sum + likelihood[i] * of(one), 0) / total;
  const slope = mean((one) => one.slope);
  const variance = mean((one) => (one.slope - slope) ** 2 + varianceOf(one.shares, runVariance, noise));
  return {
    line,
    slope,
    slopeError: Math.sqrt(variance),
    freedom,
    scatterDb,
    bent: unbent.squares - line.squares > 4 * (runVariance + own),
  };
}

function varianceOf(shares: number[], runVariance: number, noise: number[][]): number {
  let sum = 0;
  shares.forEach((a, i) => {
    sum += a * a * runVariance;
    shares.forEach((b, j) => {
      sum += a * b * noise[i][j];
    });
  });
  return sum;
}
