/** A straight line with a common loss: y = offset + slope x - loss(x). */
export interface GainLine {
  slope: number;
  offset: number;
  /** By point, dB: what all bands lose together, growing with power; 0 for none. */
  lossDb: number[];
  /** Weighted sum of squared residuals over the mean weight: a sum of squares in dB^2. */
  squares: number;
  /** Coefficients that make the slope of the points: slope = sum share_i y_i, with a free loss where that is asked for. */
  shares: number[];
}

const GRID = 60;
/** Least and largest loss at the last point that are tried, dB. */
const LOSS_RANGE = [1e-3, 20] as const;

/**
 * Fit a line to gains over drive, with a loss that may take from the upper end.
 *
 * @param x drive, rising, dB. @param y gain, dB. @param weights one for each. @param bent whether a loss is allowed for.
 *
 * Notes: loss = 10 lg(1 + A 10^(x/10)), A >= 0: proportional to power while small, as heat in a voice coil and
 * soft limiting are; by a search over A with the line solved for each. `shares` always allows for the loss, so that an
 * uncertainty made of them covers the loss too where the fit finds none.
 */
export function fitGainLine(x: number[], y: number[], weights: number[], bent: boolean): GainLine {
  const top = x[x.length - 1];
  const lossOf = (atTop: number) => {
    const a = 10 ** (atTop / 10) - 1;
    return x.map((drive) => 10 * Math.log10(1 + a * 10 ** ((drive - top) / 10)));
  };
  const none = x.map(() => 0);
  let lossDb = none;
  if (bent) {
    const squaresOf = (atTop: number) => straight(x, y, weights, lossOf(atTop)).squares;
    const best = smallest(squaresOf);
    if (squaresOf(best) < straight(x, y, weights, none).squares) lossDb = lossOf(best);
  }
  const line = straight(x, y, weights, lossDb);
  return { ...line, lossDb, shares: sharesOf(x, weights, bent ? x.map((drive) => 10 ** ((drive - top) / 10)) : none) };
}

/** Where a function of the loss at the top is smallest: a grid over its logarithm, then a golden section. */
function smallest(squaresOf: (atTop: number) => number): number {
  const [low, high] = LOSS_RANGE.map(Math.log);
  const at = (i: number) => low + ((high - low) * i) / GRID;
  const of = (log: number) => squaresOf(Math.exp(log));
  let best = 0;
  for (let i = 1; i <= GRID; i++) if (of(at(i)) < of(at(best))) best = i;
  let [a, b] = [at(Math.max(0, best - 1)), at(Math.min(GRID, best + 1))];
  for (let i = 0; i < 25; i++) {
    const part = 0.381966 * (b - a);
    if (of(a + part) < of(b - part)) b -= part;
    else a += part;
  }
  return Math.exp(0.5 * (a + b));
}

function straight(x: number[], y: number[], w: number[], lossDb: number[]) {
  const shares = sharesOf(
    x,
    w,
    x.map(() => 0),
  );
  const whole = y.map((value, i) => value + lossDb[i]);
  const slope = dot(shares, whole);
  const total = w.reduce((sum, value) => sum + value, 0);
  const offset =
    dot(
      w,
      whole.map((value, i) => value - slope * x[i]),
    ) / total;
  const squares = whole.reduce((sum, value, i) => sum + w[i] * (value - offset - slope * x[i]) ** 2, 0);
  return { slope, offset, squares: (squares * w.length) / total };
}

/** What each point adds to the slope of a weighted fit of 1, x and a third column (nothing, for a straight line). */
function sharesOf(x: number[], w: number[], third: number[]): number[] {
  const constant = x.map(() => 1);
  const bend = without(third, w, [constant]);
  const others = dot(bend, bend) > 0 ? [constant, bend] : [constant];
  const rest = without(x, w, others);
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
