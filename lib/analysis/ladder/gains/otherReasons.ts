/** How sharply a common loss may set in, and how large it may be at the last rung, dB. */
const SHARPNESS = [0.5, 1, 2, 4, 16];
const POWERS = [1.7, 2.5];
const LARGEST_DB = 20;
const GRID = 40;

/** Squared misfit about the mean of the values less what explains a part of them. */
function squaresAbout(values: number[]): number {
  let sum = 0;
  for (let i = 0; i < values.length; i++) sum += values[i];
  const mean = sum / values.length;
  let squares = 0;
  for (let i = 0; i < values.length; i++) squares += (values[i] - mean) ** 2;
  return squares;
}

/** The shift that explains deviations from the commanded drive best: all values from `at` on are higher by `shiftDb`. */
export function shiftAt(off: number[]): { at: number; shiftDb: number; squares: number } {
  const mean = (values: number[]) => values.reduce((sum, value) => sum + value, 0) / values.length;
  let best = { at: 1, shiftDb: 0, squares: Number.POSITIVE_INFINITY };
  for (let at = 1; at < off.length; at++) {
    const [low, high] = [off.slice(0, at), off.slice(at)];
    const squares = squaresAbout(low) + squaresAbout(high);
    if (squares < best.squares) best = { at, shiftDb: mean(high) - mean(low), squares };
  }
  return best;
}

/** Misfit of a step that differs: deviations in proportion to drive. */
export function squaresOfLine(x: number[], off: number[]): number {
  const mx = x.reduce((sum, value) => sum + value, 0) / x.length;
  const xx = x.reduce((sum, value) => sum + (value - mx) ** 2, 0);
  const slope = x.reduce((sum, value, i) => sum + (value - mx) * off[i], 0) / xx;
  return squaresAbout(off.map((value, i) => value - slope * x[i]));
}

/**
 * The loss that all bands share, growing with drive, that explains the deviations best where steps are as commanded: in
 * proportion to a power of drive, or setting in more or less sharply.
 */
export function fitCommonLoss(x: number[], off: number[]): { lossDb: number[]; squares: number } {
  const top = x[x.length - 1];
  const none = x.map(() => 0);
  let best = { lossDb: none, squares: squaresAbout(off) };
  const sum = new Array<number>(x.length);
  const consider = (lossDb: number[]) => {
    for (let k = 0; k < sum.length; k++) sum[k] = off[k] + lossDb[k];
    const squares = squaresAbout(sum);
    if (squares < best.squares) best = { lossDb, squares };
  };
  // what of each does not depend on how large the loss is
  const shares = POWERS.map((power) => x.map((drive) => ((drive - x[0]) / (top - x[0])) ** power));
  const rises = SHARPNESS.map((p) => x.map((drive) => 10 ** ((p * (drive - top)) / 10)));
  for (let i = 0; i <= GRID; i++) {
    const atTop = LARGEST_DB * 10 ** ((-3 * i) / GRID);
    for (const share of shares) consider(share.map((part) => atTop * part));
    for (const [s, p] of SHARPNESS.entries()) {
      const a = 10 ** ((p * atTop) / 10) - 1;
      consider(rises[s].map((rise) => (10 / p) * Math.log10(1 + a * rise)));
    }
  }
  return best;
}
