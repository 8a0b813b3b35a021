import { OCTAVE_RATIO } from '../model/octaves';

/**
 * Mean of a piecewise-linear column over 1/`fraction` octave around each of its points.
 *
 * @param frequencyHz strictly rising, Hz. @param values one for each.
 * @param fraction the window is f G^(-1/2n) .. f G^(+1/2n), n = `fraction`, G = 10^0.3.
 * @returns one mean for each point: the exact integral over linear frequency divided by the width.
 *
 * At the ends of the column the window shrinks in ratio, so that it stays centred; at the very ends nothing is left of
 * it and the value itself is returned. O(N): both edges only ever move up, and segments are added to the integral as
 * the upper edge passes them and taken off as the lower one does. The rounding error of every addition is summed
 * beside (as in `runningIntegral`), so that a quiet stretch keeps its digits after a loud one.
 *
 * Reference: IEC 61260-1:2014, 5.2 and 5.5 (octave ratio and band edges).
 *
 * @example
 * centredMeans([10, 20, 40], [5, 5, 5], 3) // [5, 5, 5]
 */
export function centredMeans(
  frequencyHz: ArrayLike<number>,
  values: ArrayLike<number>,
  fraction: number,
): Float64Array {
  const f = columnOf(frequencyHz);
  const y = columnOf(values);
  const means = new Float64Array(y);
  const last = y.length - 1;
  const half = OCTAVE_RATIO ** (1 / (2 * fraction));
  // A column narrower than one window has no full window: its two ends meet in the middle.
  const middle = Math.sqrt(f[0] * f[last]);
  const full = f[0] * half <= middle;
  const from = full ? f[0] * half : middle;
  let low = 0;
  while (low <= last && f[low] < from) low++;
  let high = full ? last : low - 1;
  while (high >= low && f[high] * half > f[last]) high--;
  fromFirstPoint(f, y, low, means);
  fullWindows(f, y, low, high, half, means);
  upToLastPoint(f, y, high, means);
  return means;
}

function columnOf(values: ArrayLike<number>): Float64Array {
  return values instanceof Float64Array ? values : new Float64Array(values);
}

/** Points below `end`: the window reaches from the first point to as far above in ratio. */
function fromFirstPoint(f: Float64Array, y: Float64Array, end: number, means: Float64Array): void {
  let k = 0;
  let sum = 0;
  for (let i = 1; i < end; i++) {
    const upper = (f[i] * f[i]) / f[0];
    for (; f[k + 1] <= upper; k++) sum += 0.5 * (f[k + 1] - f[k]) * (y[k + 1] + y[k]);
    const cut = upper - f[k];
    const bend = k + 1 < f.length ? ((y[k + 1] - y[k]) / (f[k + 1] - f[k])) * cut : 0;
    means[i] = (sum + cut * (y[k] + 0.5 * bend)) / (upper - f[0]);
  }
}

/** Points above `begin`: the window reaches to the last point from as far below in ratio. */
function upToLastPoint(f: Float64Array, y: Float64Array, begin: number, means: Float64Array): void {
  const last = f.length - 1;
  let j = last;
  let sum = 0;
  for (let i = last - 1; i > begin; i--) {
    const lower = (f[i] * f[i]) / f[last];
    for (; f[j - 1] >= lower; j--) sum += 0.5 * (f[j] - f[j - 1]) * (y[j] + y[j - 1]);
    const cut = f[j] - lower;
    const bend = j > 0 ? ((y[j] - y[j - 1]) / (f[j] - f[j - 1])) * cut : 0;
    means[i] = (sum + cut * (y[j] - 0.5 * bend)) / (f[last] - lower);
  }
}

/** Points `low` to `high`, whose whole window lies inside the column. */
function fullWindows(
  f: Float64Array,
  y: Float64Array,
  low: number,
  high: number,
  half: number,
  means: Float64Array,
): void {
  const last = f.length - 1;
  const narrow = 1 / half;
  let j = 1; // the lower edge lies in [f(j-1), f(j)]
  let k = 0; // the upper edge lies in [f(k), f(k+1)]
  let fBefore = f[0];
  let yBefore = y[0];
  let fAfter = f[1];
  let yAfter = y[1];
  let fFrom = f[0];
  let yFrom = y[0];
  let fTo = f[1];
  let yTo = y[1];
  // Twice the area of the whole segments between f(j) and f(k), and the rounding errors made in summing it.
  let sum = (fBefore - fAfter) * (yBefore + yAfter);
  let error = 0;
  for (let i = low; i <= high; i++) {
    const centre = f[i];
    const lower = centre * narrow;
    const upper = centre * half;
    while (fTo <= upper && k < last - 1) {
      const area = (fTo - fFrom) * (yTo + yFrom);
      const next = sum + area;
      const added = next - sum;
      error += sum - (next - added) + (area - added);
      sum = next;
      k++;
      fFrom = fTo;
      yFrom = yTo;
      fTo = f[k + 1];
      yTo = y[k + 1];
    }
    while (fAfter <= lower) {
      fBefore = fAfter;
      yBefore = yAfter;
      j++;
      fAfter = f[j];
      yAfter = y[j];
      const area = (fBefore - fAfter) * (yBefore + yAfter);
      const next = sum + area;
      const added = next - sum;
      error += sum - (next - added) + (area - added);
      sum = next;
    }
    const below = fAfter - lower;
    const above = upper - fFrom;
    const widthBelow = fAfter - fBefore;
    const widthAbove = fTo - fFrom;
    // The two cut segments over one common denominator: one division a point instead of three.
    const whole = sum + error + 2 * (below * yAfter + above * yFrom);
    const bend = above * above * (yTo - yFrom) * widthBelow - below * below * (yAfter - yBefore) * widthAbove;
    const both = widthBelow * widthAbove;
    means[i] = (0.5 * (whole * both + bend)) / (both * (upper - lower));
  }
}
