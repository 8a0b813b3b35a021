import type { Curve } from '../../model/curve';

/** Neighbours on either side that the scatter is averaged over at the least, and octaves. */
const NEIGHBOURS = 4;
const OCTAVES = 1 / 4;

/**
 * Estimate by how much each point of a curve scatters by chance, dB (standard deviation).
 *
 * @param curve any curve. @returns one value for each point; 0 with fewer than three points.
 *
 * Read from how far points lie off the straight line between their neighbours, averaged over half an octave. Noise of
 * an unsmoothed curve shows in full; that of a smoothed one, whose neighbours scatter together, does not. A structure
 * as narrow as the grid counts as scatter. Where the noise is known, it is at least what that noise makes of a point:
 * 4.34 sqrt(2 / snr + 1 / snr^2) dB.
 */
export function pointScatterDb(curve: Curve): Float64Array {
  const { frequencyHz: f, levelDb: y, noiseDb } = curve;
  const last = y.length - 1;
  const running = new Float64Array(y.length + 1);
  for (let i = 0; i <= last; i++) {
    let off = 0;
    if (i > 0 && i < last) {
      const t = (f[i] - f[i - 1]) / (f[i + 1] - f[i - 1]);
      const spread = Math.sqrt(1 + t * t + (1 - t) ** 2);
      off = Math.abs(y[i] - (1 - t) * y[i - 1] - t * y[i + 1]) / spread;
    }
    running[i + 1] = running[i] + off;
  }
  const out = new Float64Array(y.length);
  let from = 0;
  let to = 0;
  for (let i = 0; i <= last; i++) {
    while (f[from] < f[i] / 2 ** OCTAVES) from++;
    while (to < last && f[to + 1] <= f[i] * 2 ** OCTAVES) to++;
    const low = Math.max(1, Math.min(from, i - NEIGHBOURS));
    const high = Math.min(last - 1, Math.max(to, i + NEIGHBOURS));
    // Mean size of a normal deviate is 0.798 of its standard deviation.
    if (high >= low) out[i] = (running[high + 1] - running[low]) / (high - low + 1) / Math.sqrt(2 / Math.PI);
    if (noiseDb) out[i] = Math.max(out[i], noiseScatterDb(y[i] - noiseDb[i]));
  }
  return out;
}

function noiseScatterDb(levelOverNoiseDb: number): number {
  const snr = Math.max(10 ** (levelOverNoiseDb / 10) - 1, 0.1);
  return (10 / Math.LN10) * Math.sqrt(2 / snr + 1 / snr ** 2);
}
