import { powerOf } from '../../model/decibel';
import type { Relief } from './prominence';

/** Below this much noise the lowest point and its neighbours tell the place best, dB. */
const CLEAN_DB = 0.25;

/** Standard deviations above the lowest point that the noisy bottom of a low may reach. */
const BOTTOM = 3;

/** The fit ends here at the latest, dB above the lowest point and as a part of the prominence. */
const HIGHEST_DB = 6;
const HIGHEST_PART = 0.7;

/**
 * Find the place of a low between its points.
 *
 * @param relief the trace. @param at index of its lowest point. @param prominenceDb how deep it is.
 * @returns the place in octaves (lg2 of Hz).
 *
 * Notes: where nothing is noisy, the vertex of the parabola through the lowest point and its neighbours. Noise makes
 * the lowest point a matter of chance: there a parabola is fitted to all that noise may have made of the bottom, each
 * point weighted by how sure it is. It is fitted to the power, which is a parabola around a zero of the transfer, and
 * for a peak to the inverse of the power, which is one around a resonance.
 */
export function refineExtreme({ octave, height, deviation }: Relief, at: number, prominenceDb: number): number {
  let from = at - 1;
  let to = at + 1;
  if (deviation[at] > CLEAN_DB) {
    const rise = Math.min(BOTTOM * deviation[at], HIGHEST_DB, HIGHEST_PART * prominenceDb);
    while (from > 0 && height[from - 1] <= height[at] + rise) from--;
    while (to < height.length - 1 && height[to + 1] <= height[at] + rise) to++;
  }
  const moments = new Float64Array(5);
  const products = new Float64Array(3);
  const half = 0.5 * (octave[to] - octave[from]);
  const exact = to - from === 2;
  for (let i = from; i <= to; i++) {
    const u = (octave[i] - octave[at]) / half;
    const y = exact ? height[i] - height[at] : powerOf(height[i] - height[at]);
    const weight = exact ? 1 : 1 / (y * deviation[i]) ** 2;
    for (let k = 0; k < 5; k++) moments[k] += weight * u ** k;
    for (let k = 0; k < 3; k++) products[k] += weight * y * u ** k;
  }
  const vertex = vertexOf(moments, products);
  if (vertex === null) return octave[at];
  return Math.min(Math.max(octave[at] + half * vertex, octave[from]), octave[to]);
}

/** Where the least-squares parabola is lowest, from the sums of u^k and of y u^k; null where it has no low. */
function vertexOf(s: Float64Array, t: Float64Array): number | null {
  const linear =
    s[0] * (t[1] * s[4] - t[2] * s[3]) - t[0] * (s[1] * s[4] - s[3] * s[2]) + s[2] * (s[1] * t[2] - t[1] * s[2]);
  const square =
    s[0] * (s[2] * t[2] - s[3] * t[1]) - s[1] * (s[1] * t[2] - s[2] * t[1]) + t[0] * (s[1] * s[3] - s[2] ** 2);
  return square > 0 ? -linear / (2 * square) : null;
}
