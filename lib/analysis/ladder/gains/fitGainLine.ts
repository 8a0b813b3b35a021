/** A straight line with a shared loss: y = offset + slope x - loss(x). */
export interface GainLine {
  slope: number;
  offset: number;
  /** By point, dB: what all bands lose together, growing with drive; 0 for none. */
  lossDb: number[];
  /** Mean of the weighted squared residuals, weights scaled to a mean of 1, times the number of points: dB^2. */
  squares: number;
  /** What each point adds to the slope: slope = sum share_i y_i, the loss being free. */
  shares: number[];
}

const GRID = 24;
const GOLDEN = 14;
/** Least and largest loss at the last point that are tried, dB ... */
const LOSS_RANGE = [2e-3, 20] as const;
/** ... and largest at the first: a loss that is under way everywhere is one more straight line. */
const FIRST_LOSS_DB = 0.5;

/**
 * Fit a line to gains over drive, with a loss that may take from the upper end.
 *
 * @param x drive, rising, dB. @param y gain, dB. @param weights one for each.
 * @param sharpness how quickly the loss sets in: 1 grows with power while small, larger is sharper; null for no loss.
 *
 * Notes: loss = 10/p lg(1 + A 10^(p x/10)), A >= 0, p the sharpness; by a search over A with the line solved for each.
 * `shares` always allow for the loss, so that an uncertainty made of them covers it too where the fit finds none.
 */
export function fitGainLine(x: number[], y: number[], weights: number[], sharpness: number | null): GainLine {
  const none = x.map(() => 0);
  if (sharpness === null) return { ...straight(x, y, weights, none), lossDb: none, shares: sharesOf(x, weights, none) };
  const top = x[x.length - 1];
  const rise = x.map((drive) => 10 ** ((sharpness * (drive - top)) / 10));
  const scaleOf = (atTop: number) => 10 ** ((sharpness * atTop) / 10) - 1;
  const lossOf = (atTop: number) => {
    const a = scaleOf(atTop);
    return rise.map((part) => (10 / sharpness) * Math.log10(1 + a * part));
  };
  const squaresOf = (atTop: number) => straight(x, y, weights, lossOf(atTop)).squares;
  const most = (10 / sharpness) * Math.log10(1 + (10 ** ((sharpness * FIRST_LOSS_DB) / 10) - 1) / rise[0]);
  const best = smallest(squaresOf, LOSS_RANGE[0], Math.min(LOSS_RANGE[1], most));
  const found = squaresOf(best) < straight(x, y, weights, none).squares;
  const lossDb = found ? lossOf(best) : none;
  const a = found ? scaleOf(best) : 0;
  const shares = sharesOf(
    x,
    weights,
    rise.map((part) => part / (1 + a * part)),
  );
  return { ...straight(x, y, weights, lossDb), lossDb, shares };
}

/** Where a function of the loss at the top is smallest: a grid over its logarithm, then a golden section. */
function smallest(squaresOf: (atTop: number) => number, least: number, most: number): number {
  const [low, high] = [Math.log(least), Math.log(most)];
  const at = (i: number) => low + ((high - low) * i) / GRID;
  let best = 0;
  let fewest = Number.POSITIVE_INFINITY;
  for (let i = 0; i <= GRID; i++) {
    const squares = squaresOf(Math.exp(at(i)));
    if (squares < fewest) [best, fewest] = [i, squares];
  }
  let [a, b] = [at(Math.max(0, best - 1)), at(Math.min(GRID, best + 1))];
  for (let i = 0; i < GOLDEN; i++) {
    const part = 0.381966 * (b - a);
    if (squaresOf(Math.exp(a + part)) < squaresOf(Math.exp(b - part))) b -= part;
    else a += part;
  }
  return Math.exp(0.5 * (a + b));
}

function straight(x: number[], y: number[], w: number[], lossDb: number[]) {
  let total = 0;
  let mx = 0;
  let my = 0;
  for (let i = 0; i < x.length; i++) {
    total += w[i];
    mx += w[i] * x[i];
    my += w[i] * (y[i] + lossDb[i]);
  }
  mx /= total;
  my /= total;
  let xx = 0;
  let xy = 0;
  for (let i = 0; i < x.length; i++) {
    xx += w[i] * (x[i] - mx) ** 2;
    xy += w[i] * (x[i] - mx) * (y[i] + lossDb[i] - my);
  }
  const slope = xy / xx;
  let squares = 0;
  for (let i = 0; i < x.length; i++) squares += w[i] * (y[i] + lossDb[i] - my - slope * (x[i] - mx)) ** 2;
  return { slope, offset: my - slope * mx, squares: (squares * w.length) / total };
}

/** What each point adds to the slope of a weighted fit of 1, x and a third column (nothing, for a straight line). */
function sharesOf(x: number[], w: number[], third: number[]): number[] {
  const constant = x.map(() => 1);
  const bend = without(third, w, [constant]);
  const rest = without(x, w, dot(bend, bend) > 0 ? [constant, bend] : [constant]);
  const spread = rest.reduce((sum, value, i) => sum + w[i] * value * value, 0);
  return rest.map((value, i) => (w[i] * value) / spread);
}

/** A column less what mutually orthogonal others explain of it. */
function without(column: number[], w: number[], others: number[][]): number[] {
  return others.reduce((rest, other) => {
    const weighted = other.map((value, i) => w[i] * value);
    const part = dot(weighted, column) / dot(weighted, other);
    return rest.map((value, i) => value - part * other[i]);
  }, column);
}

function dot(a: number[], b: number[]): number {
  return a.reduce((sum, value, i) => sum + value * b[i], 0);
}
