import { levelOf, powersOf } from '../model/decibel';

/**
 * Integral of the piecewise-linear power of a curve over frequency, from its first point to any frequency:
 * the one primitive under fraction-of-octave smoothing and band levels, so that both mean the same.
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
  const last = power.length - 1;
  const sum = new Float64Array(power.length);
  for (let i = 1; i <= last; i++) sum[i] = sum[i - 1] + 0.5 * (power[i] + power[i - 1]) * (f[i] - f[i - 1]);

  const upTo = (hz: number): number => {
    let low = 0;
    let high = last;
    while (high - low > 1) {
      const middle = (low + high) >> 1;
      if (f[middle] <= hz) low = middle;
      else high = middle;
    }
    const t = (hz - f[low]) / (f[high] - f[low]);
    return sum[low] + (hz - f[low]) * (power[low] + 0.5 * t * (power[high] - power[low]));
  };

  const mean = (lowHz: number, highHz: number): number => {
    const a = Math.max(lowHz, f[0]);
    const b = Math.min(highHz, f[last]);
    if (last === 0) return a <= b ? power[0] : Number.NaN;
    if (b > a) return (upTo(b) - upTo(a)) / (b - a);
    if (b < a) return Number.NaN;
    const at = upTo(Math.min(a * (1 + 1e-9), f[last]));
    const before = upTo(Math.max(a * (1 - 1e-9), f[0]));
    return (at - before) / (Math.min(a * (1 + 1e-9), f[last]) - Math.max(a * (1 - 1e-9), f[0]));
  };

  return { mean, meanDb: (lowHz, highHz) => levelOf(mean(lowHz, highHz)) };
}
