import type { Interval } from '../../model/curve';

/** Which points of a grid make up a band, and how much each counts. */
export interface BandPoints {
  /** Index of the first point. */
  from: number;
  /** Share of the band that lies nearest to each point; they add up to 1. */
  weights: Float64Array;
  /** 1 / (sum of squared weights): the number of points, less where the band cuts some. */
  effective: number;
}

/**
 * Find out how many points a band mean rests on.
 *
 * @param frequencyHz rising, Hz. @param band its edges, Hz, inside the grid.
 *
 * Notes: for the statistics of a mean only, the mean itself is the exact integral of `powerIntegral`. A band narrower
 * than the spacing rests on one or two points.
 *
 * @example
 * bandPoints([10, 20, 30, 40], [15, 35]).effective // 2
 */
export function bandPoints(frequencyHz: ArrayLike<number>, [lowHz, highHz]: Interval): BandPoints {
  const f = frequencyHz;
  const last = f.length - 1;
  const edge = (i: number) =>
    i < 0 ? Number.NEGATIVE_INFINITY : i >= last ? Number.POSITIVE_INFINITY : 0.5 * (f[i] + f[i + 1]);
  let from = 0;
  let end = last;
  while (from < end) {
    const middle = (from + end) >> 1;
    if (edge(middle) <= lowHz) from = middle + 1;
    else end = middle;
  }
  const weights: number[] = [];
  let squares = 0;
  for (let i = from; i <= last && edge(i - 1) < highHz; i++) {
    const weight = (Math.min(edge(i), highHz) - Math.max(edge(i - 1), lowHz)) / (highHz - lowHz);
    weights.push(weight);
    squares += weight * weight;
  }
  return { from, weights: Float64Array.from(weights), effective: 1 / squares };
}
