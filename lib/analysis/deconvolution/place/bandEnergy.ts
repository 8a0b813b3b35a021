import { inverseRealFft, nextFastLength } from '../../../signal/fourier';
import { lender } from '../lender';

const lendBins = lender();
const lendSamples = lender();

/** Energy of a band of an impulse response over time, going round the transform's length. */
export interface BandEnergy {
  /** Mean square, smoothed. */
  energy: Float64Array;
  /** Seconds from one value to the next. */
  stepS: number;
  /** Mean square that stationary noise has per unit of mean squared bin. */
  noiseGain: number;
}

/**
 * Energy over time of the part of an impulse response that lies in a band.
 *
 * @param bins its spectrum. @param binHz spacing. @param lowHz @param highHz the band, Hz.
 * @param smoothS time that the energy is averaged over, s; centred.
 *
 * Notes: the band is moved down to 0 Hz before it is transformed back, which leaves its energy where it was and needs
 * a transform no longer than the band is wide. Its edges are a squared sine, so that it does not ring.
 */
export function bandEnergy(
  bins: Float64Array,
  binHz: number,
  lowHz: number,
  highHz: number,
  smoothS: number,
): BandEnergy {
  const first = Math.max(1, Math.ceil(lowHz / binHz));
  const count = Math.max(1, Math.min(bins.length / 2 - 1, Math.floor(highHz / binHz)) - first + 1);
  const length = nextFastLength(4 * (count + 1));
  const moved = lendBins(length + 2);
  moved.fill(0, 0, 2).fill(0, 2 * count + 2);
  let squares = 0;
  for (let i = 0; i < count; i++) {
    const gain = Math.sin((Math.PI * (i + 0.5)) / count) ** 2;
    squares += gain * gain;
    moved[2 * i + 2] = gain * bins[2 * (first + i)];
    moved[2 * i + 3] = gain * bins[2 * (first + i) + 1];
  }
  const samples = inverseRealFft(moved, lendSamples(length));
  const stepS = 1 / (binHz * length);
  for (let n = 0; n < length; n++) samples[n] *= samples[n];
  const energy = circularMean(samples, Math.max(1, Math.round(smoothS / stepS)));
  return { energy, stepS, noiseGain: (2 * squares) / length ** 2 };
}

/** Centred running mean over `width` values, going round. */
function circularMean(values: Float64Array, width: number): Float64Array {
  const length = values.length;
  if (width >= length) return new Float64Array(length).fill(values.reduce((sum, x) => sum + x, 0) / length);
  const half = width >> 1;
  const share = 1 / width;
  let sum = 0;
  for (let i = -half; i < width - half; i++) sum += values[i < 0 ? i + length : i];
  const out = new Float64Array(length);
  let ahead = width - half;
  let behind = length - half;
  for (let n = 0; n < length; n++) {
    if (ahead >= length) ahead -= length;
    if (behind >= length) behind -= length;
    out[n] = sum > 0 ? sum * share : 0;
    sum += values[ahead++] - values[behind++];
  }
  return out;
}
