import { studentT } from './studentT';

export interface Line {
  slope: number;
  offset: number;
  /** Standard error of the slope, from how the points scatter about the line. */
  slopeError: number;
  /** Standard deviation of the points beyond their own errors. */
  scatter: number;
  /** Whether a parabola bends downwards by more than chance (97.5 %, one side) and by more than matters. */
  bendsDown: boolean;
}

/** Half the height of an arc that is left alone, dB. */
const FLAT = 0.005;

/**
 * Fit a straight line by weighted least squares, the scatter of the points found from the fit itself.
 *
 * @param x rising. @param y one for each. @param error standard deviation of each y that is known beforehand.
 *
 * Notes: weights 1/(error^2 + scatter^2), the scatter by moments from an unweighted fit first.
 */
export function fitLine(x: number[], y: number[], error: number[]): Line {
  const plain = weighted(
    x,
    y,
    x.map(() => 1),
  );
  const freedom = x.length - 2;
  const own = error.reduce((sum, e) => sum + e * e, 0) / error.length;
  const scatter = freedom > 0 ? Math.sqrt(Math.max(0, plain.squares / freedom - own)) : 0;
  const weights = error.map((e) => 1 / (e * e + scatter ** 2 + 1e-6));
  const fit = weighted(x, y, weights);
  const unit = freedom > 0 ? fit.squares / freedom : Number.NaN;
  return {
    slope: fit.slope,
    offset: fit.offset,
    slopeError: Math.sqrt(unit / fit.spread),
    scatter,
    bendsDown: bends(x, y, weights, fit),
  };
}

interface Weighted {
  slope: number;
  offset: number;
  /** Weighted sum of squared residuals. */
  squares: number;
  /** Weighted sum of squares of x about its mean. */
  spread: number;
}

function weighted(x: number[], y: number[], w: number[]): Weighted {
  const total = sum(w);
  const mx = sum(x.map((value, i) => w[i] * value)) / total;
  const my = sum(y.map((value, i) => w[i] * value)) / total;
  const spread = sum(x.map((value, i) => w[i] * (value - mx) ** 2));
  const slope = sum(x.map((value, i) => w[i] * (value - mx) * (y[i] - my))) / spread;
  const offset = my - slope * mx;
  const squares = sum(x.map((value, i) => w[i] * (y[i] - offset - slope * value) ** 2));
  return { slope, offset, squares, spread };
}

function bends(x: number[], y: number[], w: number[], line: Weighted): boolean {
  const freedom = x.length - 3;
  if (freedom < 1) return false;
  // the part of x^2 that no straight line holds
  const square = x.map((value) => value * value);
  const straight = weighted(x, square, w);
  const arc = square.map((value, i) => value - straight.offset - straight.slope * x[i]);
  const spread = sum(arc.map((value, i) => w[i] * value * value));
  const curvature = sum(arc.map((value, i) => w[i] * value * (y[i] - line.offset - line.slope * x[i]))) / spread;
  const rest = Math.max(0, line.squares - curvature ** 2 * spread) / freedom;
  const height = -curvature * (Math.max(...arc) - Math.min(...arc));
  return height > FLAT && -curvature > studentT(freedom) * Math.sqrt(rest / spread);
}

function sum(values: number[]): number {
  return values.reduce((total, value) => total + value, 0);
}
