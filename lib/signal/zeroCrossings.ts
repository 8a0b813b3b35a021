/** Faster than that many samples a half cycle, straight lines between samples miss the crossing. */
const SHORTEST_HALF_CYCLE = 4;

/** Where some samples change their sign. */
export interface ZeroCrossings {
  /** Position, in samples, between two of them. */
  times: number[];
  /** Greatest value between a crossing and the next. */
  peaks: number[];
}

/**
 * Zero crossings of a tone, in order, without those that rounding or dither adds.
 *
 * @param samples the tone. @param first @param last where it begins and ends (samples).
 * @param swing it must come from beyond this on one side and go beyond it on the other.
 * @returns crossings up to where half cycles get shorter than four samples.
 *
 * Notes: the crossing is that of the straight line through all samples within the swing, which averages rounding.
 *
 * @example
 * zeroCrossings([1, -1, 1], 0, 2, 0.5).times // [0.5]; then half cycles are too short
 */
export function zeroCrossings(samples: ArrayLike<number>, first: number, last: number, swing: number): ZeroCrossings {
  const times: number[] = [];
  const peaks: number[] = [];
  let side = 0;
  let left = first; // last sample beyond the swing
  let peak = 0;
  for (let n = first; n <= last; n++) {
    const value = samples[n];
    if (Math.abs(value) < swing) continue;
    const now = value > 0 ? 1 : -1;
    if (side !== 0 && now !== side) {
      const at = crossingBetween(samples, left, n);
      if (times.length > 0 && at - times[times.length - 1] < SHORTEST_HALF_CYCLE) break;
      if (times.length > 0) peaks.push(peak);
      times.push(at);
      peak = 0;
    }
    side = now;
    left = n;
    peak = Math.max(peak, Math.abs(value));
  }
  return { times, peaks };
}

/** Zero of the line of least squares through samples `a` to `b`. */
function crossingBetween(samples: ArrayLike<number>, a: number, b: number): number {
  const middle = (a + b) / 2;
  let [sum, slope, square] = [0, 0, 0];
  for (let n = a; n <= b; n++) {
    sum += samples[n];
    slope += (n - middle) * samples[n];
    square += (n - middle) ** 2;
  }
  return middle - ((sum / (b - a + 1)) * square) / slope;
}
