export type Samples = Float32Array | Float64Array;

/** What stands at or beyond a value. */
export interface Standing {
  samples: number;
  /** The first of them; -1 where there is none. */
  atIndex: number;
  /** Longest run without a break. */
  longest: number;
  /** Largest and smallest sum of the two samples around a run: equal surroundings give equal sums, also mirrored ones. */
  most: number;
  fewest: number;
}

/** Count the samples that stand at a value or above it (`up`), or at it or below. */
export function standingAt(samples: Samples, least: number, up: boolean): Standing {
  const seen = {
    samples: 0,
    atIndex: -1,
    longest: 0,
    most: Number.NEGATIVE_INFINITY,
    fewest: Number.POSITIVE_INFINITY,
  };
  for (let n = 0; n < samples.length; n++) {
    if (up ? samples[n] < least : samples[n] > least) continue;
    const start = n;
    while (n + 1 < samples.length && (up ? samples[n + 1] >= least : samples[n + 1] <= least)) n++;
    const length = n + 1 - start;
    seen.samples += length;
    if (seen.atIndex < 0) seen.atIndex = start;
    if (length > seen.longest) seen.longest = length;
    if (start === 0 || n === samples.length - 1) continue;
    const around = samples[start - 1] + samples[n + 1];
    if (around > seen.most) seen.most = around;
    if (around < seen.fewest) seen.fewest = around;
  }
  return seen;
}
