import type { Interval } from '../../../model/curve';

/** Variance of the natural logarithm of an exponentially distributed power: pi^2 / 6. */
const FREE_VARIANCE = Math.PI ** 2 / 6;
const WANTED_POINTS = 24;

/**
 * Estimate how many neighbouring points of a noise run move together.
 *
 * @param frequencyHz rising, Hz. @param levelDb of the noise run.
 * @returns a function of a range: the factor, >= 1, by which a mean over points is less certain than if each were a
 * complex Gaussian sample of its own.
 *
 * Notes: variance of the logarithm of power about its third-octave mean, relative to free samples, times the sum of the
 * autocorrelation up to where it fades. A curve written on a finer grid than it was measured on scores well above 1; a
 * power-smoothed one about 1, since smoothing leaves the uncertainty of a band mean as it was. With fewer than 24
 * points in the range it says 1.
 */
export function pointDependence(frequencyHz: number[], levelDb: number[]): (range: Interval) => number {
  const rest = residuals(frequencyHz, levelDb);
  return ([lowHz, highHz]) => {
    const from = firstAbove(frequencyHz, lowHz);
    const end = firstAbove(frequencyHz, highHz);
    const count = end - from;
    if (count < WANTED_POINTS) return 1;
    const variance = lagProduct(rest, from, end, 0);
    if (!(variance > 0)) return 1;
    let sum = 1;
    for (let lag = 1; lag <= count / 4; lag++) {
      const correlation = lagProduct(rest, from, end, lag) / variance;
      // what is left below that is chance as often as not
      if (correlation < 2 / Math.sqrt(count)) break;
      sum += 2 * correlation;
    }
    return Math.min(Math.max(1, (sum * variance) / FREE_VARIANCE), count / 2);
  };
}

/** Logarithm of power less its mean over a third octave; far outliers (hum) pulled in. */
function residuals(f: number[], levelDb: number[]): Float64Array {
  const logs = Float64Array.from(levelDb, (level) => (level * Math.LN10) / 10);
  const sums = new Float64Array(logs.length + 1);
  for (let i = 0; i < logs.length; i++) sums[i + 1] = sums[i] + logs[i];
  const half = 10 ** 0.05;
  let low = 0;
  let high = 0;
  return logs.map((value, i) => {
    while (f[low] < f[i] / half) low++;
    while (high < f.length && f[high] <= f[i] * half) high++;
    const away = value - (sums[high] - sums[low]) / (high - low);
    return Math.max(-3.5, Math.min(2.4, away));
  });
}

function lagProduct(rest: Float64Array, from: number, end: number, lag: number): number {
  let sum = 0;
  for (let i = from; i < end - lag; i++) sum += rest[i] * rest[i + lag];
  return sum / (end - lag - from);
}

function firstAbove(f: number[], hz: number): number {
  let low = 0;
  let high = f.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (f[middle] < hz) low = middle + 1;
    else high = middle;
  }
  return low;
}
