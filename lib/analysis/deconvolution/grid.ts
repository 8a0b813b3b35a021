/** Frequencies of a transform: bin k stands at k * binHz. */
export interface Grid {
  rateHz: number;
  /** Samples of the transform, a power of two. */
  length: number;
  binHz: number;
}

export function gridOf(rateHz: number, length: number): Grid {
  return { rateHz, length, binHz: rateHz / length };
}

/** A band with faded edges, Hz: nothing below `from`, all from `full` to `fullTo`, nothing above `to`. */
export interface Band {
  from: number;
  full: number;
  fullTo: number;
  to: number;
}

/** Gain of a band's raised-cosine edges at a frequency. */
export function bandGain({ from, full, fullTo, to }: Band, hz: number): number {
  if (hz <= from || hz >= to) return 0;
  if (hz < full) return 0.5 - 0.5 * Math.cos((Math.PI * (hz - from)) / (full - from));
  if (hz > fullTo) return 0.5 + 0.5 * Math.cos((Math.PI * (hz - fullTo)) / (to - fullTo));
  return 1;
}
