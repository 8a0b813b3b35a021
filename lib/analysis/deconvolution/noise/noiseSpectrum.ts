import { nextFastLength, realFft } from '../../../signal/fourier';
import { hann } from '../../../signal/windows';
import { upperMedian } from '../../fitting/upperMedian';
import type { QuietTimes } from './quiet';

/** Power density of a noise: per bin of a transform, divided by the sum of its squared window. */
export interface NoiseSpectrum {
  /** Noise power under a window of which the sum of squares and the square of the sum are given. */
  power(hz: number, window: WindowSums): number;
  /** How many independent looks it rests on, about. */
  looks: number;
}

/** What of a window decides how much noise (squares) and how much of a tone (sum squared) comes through it. */
export interface WindowSums {
  squares: number;
  sumSquared: number;
}

/** So many blocks, which overlap by two thirds, tell the noise at a frequency to half a decibel with its neighbours. */
const ENOUGH_BLOCKS = 32;
/** A bin stands out as a tone by that factor over its neighbours' median. */
const STANDS_OUT = 5;

/**
 * Power density of what a capture holds where and when the stimulus is not.
 *
 * @param samples the capture. @param rateHz its rate, Hz. @param blockS length of the blocks, s.
 * @param quietAt until when, and from when on again, a frequency holds only noise.
 * @param enoughBlocks no more are read for any frequency than that, and those that come along.
 * @returns undefined where no block is quiet at any frequency.
 *
 * Notes: averaged periodograms under a Hann window, overlapping by two thirds (Welch's method); where at some
 * frequencies nothing is quiet, the nearest that has something serves. Steady tones such as hum come through a window
 * by its sum, noise by its squares; they are told apart where a bin stands out from its neighbours.
 *
 * Reference: P. D. Welch, IEEE Trans. Audio Electroacoust. 15 (1967) 70-73.
 */
export function noiseSpectrum(
  samples: Float64Array,
  rateHz: number,
  blockS: number,
  quietAt: (hz: number) => QuietTimes,
  enoughBlocks = ENOUGH_BLOCKS,
): NoiseSpectrum | undefined {
  const length = Math.min(Math.floor(blockS * rateHz), samples.length);
  if (length < 16) return undefined;
  const padded = nextFastLength(length);
  const window = hann(length, 'periodic');
  const squares = 0.375 * length;
  const binHz = rateHz / padded;
  const sums = new Float64Array(padded / 2 + 1);
  const counts = new Float64Array(padded / 2 + 1);
  const block = new Float64Array(length);
  const bins = new Float64Array(padded + 2);
  const step = Math.max(1, Math.floor(length / 3));
  const untils = new Float64Array(sums.length);
  const sinces = new Float64Array(sums.length);
  for (let k = 0; k < sums.length; k++) {
    const { until, since } = quietAt(k * binHz);
    untils[k] = until;
    sinces[k] = since;
  }
  const isNeeded = (from: number, to: number) => {
    for (let k = 0; k < sums.length; k++) {
      if (counts[k] < enoughBlocks && (to < untils[k] || from > sinces[k])) return true;
    }
    return false;
  };
  // from the end on: there a sweep is far from the low frequencies, which its side lobes reach at first
  for (let start = step * Math.floor((samples.length - length) / step); start >= 0; start -= step) {
    const [from, to] = [start / rateHz, (start + length) / rateHz];
    if (!isNeeded(from, to)) continue;
    for (let n = 0; n < length; n++) block[n] = window[n] * samples[start + n];
    realFft(block, padded, bins);
    for (let k = 0; k < sums.length; k++) {
      if (!(to < untils[k] || from > sinces[k])) continue;
      sums[k] += (bins[2 * k] ** 2 + bins[2 * k + 1] ** 2) / squares;
      counts[k]++;
    }
  }
  const density = meansOf(sums, counts);
  if (!density) return undefined;
  const toneGain = squares / (length / 2) ** 2; // of a window that stands on the tone
  return { power: partsOf(density, binHz, toneGain), looks: counts.reduce((a, b) => Math.max(a, b)) / 2 };
}

/** Means, gaps filled from the nearest bin that has one. */
function meansOf(sums: Float64Array, counts: Float64Array): Float64Array | undefined {
  if (counts.every((count) => count === 0)) return undefined;
  const out = new Float64Array(sums.length);
  for (let k = 0; k < out.length; k++) out[k] = counts[k] > 0 ? sums[k] / counts[k] : Number.NaN;
  for (let k = 1; k < out.length; k++) if (Number.isNaN(out[k])) out[k] = out[k - 1];
  for (let k = out.length - 2; k >= 0; k--) if (Number.isNaN(out[k])) out[k] = out[k + 1];
  return out;
}

/** Part tones from noise, smooth the noise, and read both at any frequency. */
function partsOf(density: Float64Array, binHz: number, toneGain: number): NoiseSpectrum['power'] {
  const last = density.length - 1;
  const median = new Float64Array(density.length);
  for (let k = 0; k <= last; k++) {
    // steps of four: it changes little
    const near = k % 4 > 0 ? undefined : density.subarray(Math.max(0, k - 9), Math.min(last, k + 9) + 1);
    median[k] = near ? upperMedian(near.slice()) : median[k - 1];
  }
  const isTone = new Uint8Array(density.length);
  for (let k = 3; k <= last; k++) isTone[k] = density[k] > STANDS_OUT * median[k] ? 1 : 0;
  const noise = smoothed(density, isTone, median);
  const tone = new Float64Array(density.length);
  for (let k = 0; k <= last; k++) if (isTone[k]) tone[k] = Math.max(0, density[k] - noise[k]);
  return (hz, { squares, sumSquared }) => {
    const place = Math.min(Math.max(hz / binHz, 0), last - 1e-9);
    const k = Math.floor(place);
    const t = place - k;
    const of = (column: Float64Array) => column[k] + t * (column[k + 1] - column[k]);
    return of(noise) * squares + of(tone) * toneGain * sumSquared;
  };
}

/** Means over some six percent to both sides without the tones; the lowest two bins hold what leaks from 0 Hz. */
function smoothed(density: Float64Array, isTone: Uint8Array, otherwise: Float64Array): Float64Array {
  const sums = new Float64Array(density.length + 1);
  const counts = new Float64Array(density.length + 1);
  for (let k = 0; k < density.length; k++) {
    const counted = k > 1 && isTone[k] === 0;
    sums[k + 1] = sums[k] + (counted ? density[k] : 0);
    counts[k + 1] = counts[k] + (counted ? 1 : 0);
  }
  const out = new Float64Array(density.length);
  for (let k = 0; k < out.length; k++) {
    const half = Math.max(2, Math.round(k * 0.06));
    const a = Math.max(0, k - half);
    const b = Math.min(density.length, k + half + 1);
    out[k] = counts[b] > counts[a] ? (sums[b] - sums[a]) / (counts[b] - counts[a]) : otherwise[k];
  }
  return out;
}
