import { levelOf, powersOf } from '../model/decibel';
import { runningIntegral } from './runningIntegral';

/**
 * Integral of the piecewise-linear power of a curve over frequency: the one primitive under band levels.
 * `centredMeans` walks the same integral along the whole curve, so that smoothing means the same.
 */
export interface PowerIntegral {
  /** Mean power over [lowHz, highHz], clipped to the curve's range; NaN where nothing of it is inside. */
  mean(lowHz: number, highHz: number): number;
  /** The same as a level in dB. */
  meanDb(lowHz: number, highHz: number): number;
}

/**
 * Prepare the power integral of a curve. O(N) once, O(log N) a question.
 *
 * @param frequencyHz strictly rising, Hz. @param levelDb dB, one for each.
 *
 * @example
 * powerIntegral([10, 20, 40], [0, 0, 0]).meanDb(12, 30) // 0
 */
export function powerIntegral(frequencyHz: ArrayLike<number>, levelDb: ArrayLike<number>): PowerIntegral {
  const f = frequencyHz;
  const power = powersOf(levelDb);
  const { high, low } = runningIntegral(f, power);
  const last = power.length - 1;

  /** Index of the segment [f(i), f(i+1)] that holds a frequency. */
  const segmentOf = (hz: number): number => {
    let from = 0;
    let to = last;
    while (to - from > 1) {
      const middle = (from + to) >> 1;
      if (f[middle] <= hz) from = middle;
      else to = middle;
    }
    return from;
  };
  // Weighted from both ends, so that the quiet end of a steep segment keeps its digits.
  const powerAt = (hz: number, i: number): number =>
    (power[i] * (f[i + 1] - hz) + power[i + 1] * (hz - f[i])) / (f[i + 1] - f[i]);

  const mean = (lowHz: number, highHz: number): number => {
    const a = Math.max(lowHz, f[0]);
    const b = Math.min(highHz, f[last]);
    if (!(a <= b)) return Number.NaN;
    if (last === 0) return power[0];
    const i = segmentOf(a);
    const k = segmentOf(b);
    if (i === k) return 0.5 * (powerAt(a, i) + powerAt(b, k));
    const before = 0.5 * (f[i + 1] - a) * (powerAt(a, i) + power[i + 1]);
    const after = 0.5 * (b - f[k]) * (power[k] + powerAt(b, k));
    return (high[k] - high[i + 1] + (low[k] - low[i + 1]) + before + after) / (b - a);
  };

  return { mean, meanDb: (lowHz, highHz) => levelOf(mean(lowHz, highHz)) };
}
