/** The law that the zero crossings of an exponential sweep follow. */
export interface SweepLaw {
  /** L: the time in which the frequency grows by the factor e. */
  rateSeconds: number;
  /** Frequency at a time in seconds, Hz. */
  hzAt(seconds: number): number;
  /** How far crossings lie from the law, in half cycles: root mean square, and worst. */
  rms: number;
  worst: number;
}

/** Fewer crossings do not show a law. */
const LEAST = 8;

/**
 * Fit the law of an exponential sweep, k = A exp(t / L) + B, to the times of its zero crossings k = 0, 1, 2 ...
 *
 * @param seconds times, rising.
 * @returns undefined where there are fewer than eight, or no rising exponential comes near them.
 *
 * Notes: for a given L the rest is linear. Crossings weigh by their spacing, so that every second counts alike and the
 * many fast cycles at the end do not drown the few slow ones; L is found by golden section over its logarithm.
 */
export function fitSweepLaw(seconds: number[]): SweepLaw | undefined {
  if (seconds.length < LEAST) return undefined;
  const [first, last] = [seconds[0], seconds[seconds.length - 1]];
  const span = last - first;
  // from a sweep of thirty octaves to one that hardly rises
  let [low, high] = [Math.log(span / 21), Math.log(span * 4)];
  const golden = (Math.sqrt(5) - 1) / 2;
  const cost = (logRate: number) => fitAt(seconds, Math.exp(logRate), last).cost;
  let [a, b] = [high - golden * (high - low), low + golden * (high - low)];
  let [costA, costB] = [cost(a), cost(b)];
  while (high - low > 1e-9) {
    if (costA < costB) {
      [high, b, costB] = [b, a, costA];
      a = high - golden * (high - low);
      costA = cost(a);
    } else {
      [low, a, costA] = [a, b, costB];
      b = low + golden * (high - low);
      costB = cost(b);
    }
  }
  const rateSeconds = Math.exp((low + high) / 2);
  const { gain, offset } = fitAt(seconds, rateSeconds, last);
  if (!(gain > 0)) return undefined;
  let [sum, worst] = [0, 0];
  seconds.forEach((t, k) => {
    const error = Math.abs(gain * Math.exp((t - last) / rateSeconds) + offset - k);
    sum += error * error;
    worst = Math.max(worst, error);
  });
  return {
    rateSeconds,
    // two crossings a cycle
    hzAt: (t) => (gain / (2 * rateSeconds)) * Math.exp((t - last) / rateSeconds),
    rms: Math.sqrt(sum / seconds.length),
    worst,
  };
}

/** Best A (counted at the last crossing) and B for one L, and the weighted mean square that is left. */
function fitAt(seconds: number[], rate: number, last: number): { gain: number; offset: number; cost: number } {
  let [w, sx, sy, sxx, sxy, syy] = [0, 0, 0, 0, 0, 0];
  for (let k = 0; k < seconds.length; k++) {
    const next = seconds[Math.min(k + 1, seconds.length - 1)];
    const weight = next - seconds[Math.max(k - 1, 0)];
    const x = Math.exp((seconds[k] - last) / rate);
    w += weight;
    sx += weight * x;
    sy += weight * k;
    sxx += weight * x * x;
    sxy += weight * x * k;
    syy += weight * k * k;
  }
  const [xx, xy, yy] = [sxx - (sx * sx) / w, sxy - (sx * sy) / w, syy - (sy * sy) / w];
  const gain = xy / xx;
  return { gain, offset: (sy - gain * sx) / w, cost: (yy - gain * xy) / w };
}
