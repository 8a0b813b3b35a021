/** A running sum kept in two parts: `high[i] + low[i]` holds it to about 32 digits. */
export interface RunningIntegral {
  high: Float64Array;
  low: Float64Array;
}

/**
 * Integrate a piecewise-linear column over frequency from its first point up to every point.
 *
 * @param frequencyHz strictly rising, Hz. @param values one for each.
 * @returns the running integral in two parts, one pair for each point.
 *
 * A quiet stretch may follow a loud one 150 dB above it; the difference of two plain running sums would then keep
 * nothing of it. The rounding error of every addition is therefore kept and summed beside the sum.
 *
 * Reference: D. E. Knuth, The Art of Computer Programming, vol. 2, 4.2.2, theorem B (error of one addition).
 *
 * @example
 * runningIntegral([10, 20, 40], [1, 1, 3]).high // [0, 10, 50]
 */
export function runningIntegral(frequencyHz: ArrayLike<number>, values: ArrayLike<number>): RunningIntegral {
  const count = values.length;
  const high = new Float64Array(count);
  const low = new Float64Array(count);
  let sum = 0;
  let error = 0;
  for (let i = 1; i < count; i++) {
    const area = 0.5 * (frequencyHz[i] - frequencyHz[i - 1]) * (values[i] + values[i - 1]);
    const next = sum + area;
    const added = next - sum;
    error += sum - (next - added) + (area - added);
    sum = next;
    high[i] = sum;
    low[i] = error;
  }
  return { high, low };
}
