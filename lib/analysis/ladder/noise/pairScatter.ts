/** How the difference of two rungs scatters from point to point, over a range of points. */
export interface PairScatter {
  /** Mean of squared second differences, dB^2. */
  squareDb: number;
  /** The same, each over the variance that a noise of power 1 gives where the signal has its shape. */
  perNoise: number;
}

/**
 * Prepare the scatter of the difference of two rungs.
 *
 * @param low levels, dB. @param high levels of the next rung, dB. @param shape power that says where the signal is weak.
 * @param range indices start..stop that all curves cover. @param block how many points are averaged first.
 * @returns a function of a range of points, from..end.
 *
 * Notes: means over n free points have 1/n of their variance, which `perNoise` puts back, so that all blocks say the same
 * of free points.
 */
export function pairScatter(
  low: number[],
  high: number[],
  shape: Float64Array,
  [start, stop]: [number, number],
  block: number,
): (from: number, end: number) => PairScatter {
  const count = Math.floor((stop - start) / block);
  const difference = new Float64Array(count);
  const variance = new Float64Array(count);
  for (let j = 0; j < count; j++) {
    for (let i = start + j * block; i < start + (j + 1) * block; i++) {
      difference[j] += (high[i] - low[i]) / block;
      variance[j] += 1 / (shape[i] * block);
    }
  }
  const squares = new Float64Array(count);
  const ratios = new Float64Array(count);
  for (let j = 1; j < count - 1; j++) {
    const second = difference[j] - 0.5 * (difference[j - 1] + difference[j + 1]);
    const expected = variance[j] + 0.25 * (variance[j - 1] + variance[j + 1]);
    squares[j] = squares[j - 1] + second * second;
    ratios[j] = ratios[j - 1] + (block * second * second) / expected;
  }
  return (from, end) => {
    const a = Math.max(0, Math.min(count - 3, Math.floor((from - start) / block)));
    const b = Math.min(count - 2, Math.max(a + 1, Math.ceil((end - start) / block) - 1));
    return { squareDb: (squares[b] - squares[a]) / (b - a), perNoise: (ratios[b] - ratios[a]) / (b - a) };
  };
}
