import { inverseRealFft } from '../../../signal/fourier';
import type { Band } from '../grid';
import type { NoiseSpectrum, WindowSums } from '../noise/noiseSpectrum';
import { bandEnergy } from '../place/bandEnergy';
import { spectrumThrough, type TimeWindow, windowSums } from '../window/timeWindow';
import { readBins } from './readBins';

/** Lengths that windows have, s; between them they are blended. */
const LENGTHS_S = [0.3, 0.6, 1.2, 2.4, 3.6];
/** On the bins, the blend is worked out anew that often. */
const BLEND_EVERY = 16;
/** A response counts as long as its energy is above the noise by that factor. */
const ABOVE_NOISE = 2;

/** The transfer from stimulus to capture before windows, and what is needed to window it. */
export interface Transfer {
  /** Bins up to half the length of `impulse`. */
  bins: Float64Array;
  /** Their inverse transform. */
  impulse: Float64Array;
  rateHz: number;
  /** Rate of the capture that the noise was read from, Hz. */
  noiseRateHz: number;
  binHz: number;
  band: Band;
  /** Arrival, s. */
  arrivalS: number;
  /** Squared magnitude of what the capture's spectrum was multiplied by. */
  gain: Float64Array;
  /** Time before the arrival in which nothing of a harmonic stands, s. */
  clearBeforeS: number;
  /** Longest window, s, by frequency: what follows the sweep in the capture. */
  longestS(hz: number): number;
}

/** Windowed response, to be read anywhere in its band. */
export interface Fundamental {
  read(frequencyHz: ArrayLike<number>): Float64Array;
  /** The same on the bins. */
  onBins(): Float64Array;
  noisePower(hz: number): number;
  /** Length of the window, s. */
  lengthS(hz: number): number;
}

/** Extend bins up to the band's end to a power of two, and go back to time. */
export function impulseOf(bins: Float64Array, length: number): { bins: Float64Array; impulse: Float64Array } {
  const padded = new Float64Array(length + 2);
  padded.set(bins.subarray(0, Math.min(bins.length, padded.length)));
  return { bins: padded, impulse: inverseRealFft(padded) };
}

/**
 * Window a transfer: per frequency as long as it rings above the noise, no longer.
 *
 * @param transfer before windows. @param noise of the capture; where unknown the longest windows are taken.
 *
 * Notes: the length is found in half octaves, as the last time that the energy stands above the noise, and goes over
 * from one to the next on straight lines over log frequency. Of the five lengths that are worked out, the two next to it are blended,
 * which is one window of a mixed shape.
 */
export function windowFundamental(transfer: Transfer, noise: NoiseSpectrum | undefined): Fundamental {
  const { impulse, rateHz, noiseRateHz, binHz, arrivalS } = transfer;
  const lengthS = lengthsFor(transfer, noise);
  const windows = LENGTHS_S.map((length) => windowOf(length, transfer.clearBeforeS));
  const spectra: (Float64Array | undefined)[] = [];
  const spectrum = (i: number) => {
    spectra[i] ??= spectrumThrough(impulse, rateHz, arrivalS, windows[i]);
    return spectra[i];
  };
  const blend = (hz: number) => blendFor(lengthS(hz));
  const read = (frequencyHz: ArrayLike<number>) => {
    const out = new Float64Array(2 * frequencyHz.length);
    const shares = windows.map(() => new Float64Array(frequencyHz.length));
    for (let at = 0; at < frequencyHz.length; at++) {
      const { index, t } = blend(frequencyHz[at]);
      shares[index][at] = 1 - t;
      if (t > 0) shares[index + 1][at] = t;
    }
    for (const [i, share] of shares.entries()) {
      if (share.some((one) => one > 0)) addRead(out, share, spectrum(i), binHz, arrivalS + 0.1, frequencyHz);
    }
    return out;
  };
  const onBins = () => {
    const bins = new Float64Array(transfer.bins.length);
    const last = Math.min(bins.length / 2 - 1, Math.ceil(transfer.band.to / binHz));
    let from = Math.floor(transfer.band.from / binHz);
    let { index, t } = blend(transfer.band.from);
    while (from <= last) {
      const next = Math.min(from - (from % BLEND_EVERY) + BLEND_EVERY, last + 1);
      if (from % BLEND_EVERY === 0) ({ index, t } = blend(from * binHz));
      const a = spectrum(index);
      const b = t > 0 ? spectrum(index + 1) : a;
      for (let i = 2 * from; i < 2 * next; i++) bins[i] = a[i] + t * (b[i] - a[i]);
      from = next;
    }
    return bins;
  };
  const noisePower = (hz: number) => {
    if (!noise) return 0;
    const { index, t } = blend(hz);
    return (
      noise.power(hz, sumsOf(windows[index], windows[Math.min(index + 1, windows.length - 1)], t, noiseRateHz)) *
      meanGain(transfer, hz)
    );
  };
  return { read, onBins, noisePower, lengthS };
}

/** Add what a spectrum reads where it has a share. */
function addRead(
  out: Float64Array,
  share: Float64Array,
  bins: Float64Array,
  binHz: number,
  centreS: number,
  frequencyHz: ArrayLike<number>,
): void {
  const used: number[] = [];
  const hz: number[] = [];
  for (let at = 0; at < share.length; at++) {
    if (!(share[at] > 0)) continue;
    used.push(at);
    hz.push(frequencyHz[at]);
  }
  const values = readBins(bins, binHz, centreS, hz);
  for (let m = 0; m < used.length; m++) {
    const at = used[m];
    out[2 * at] += share[at] * values[2 * m];
    out[2 * at + 1] += share[at] * values[2 * m + 1];
  }
}

function windowOf(length: number, clearBeforeS: number): TimeWindow {
  const before = Math.min(0.35 * length + 0.08, 0.7 * clearBeforeS);
  return { before, wholeBefore: 0.3 * before, wholeAfter: 0.6 * length, after: length };
}

function blendFor(length: number): { index: number; t: number } {
  const last = LENGTHS_S.length - 1;
  if (length <= LENGTHS_S[0]) return { index: 0, t: 0 };
  if (length >= LENGTHS_S[last]) return { index: last, t: 0 };
  const index = LENGTHS_S.findIndex((_, i) => length < LENGTHS_S[i + 1]);
  return { index, t: (length - LENGTHS_S[index]) / (LENGTHS_S[index + 1] - LENGTHS_S[index]) };
}

/** Of the blend (1 - t) a + t b, where a is whole as far as b matters: the cross term is that of the shorter one. */
function sumsOf(a: TimeWindow, b: TimeWindow, t: number, rateHz: number): WindowSums {
  const [one, two] = [windowSums(a, rateHz), windowSums(b, rateHz)];
  // a lies inside b almost everywhere, where b is near 1
  const cross = Math.sqrt(one.sumSquared);
  const sum = (1 - t) * Math.sqrt(one.sumSquared) + t * Math.sqrt(two.sumSquared);
  return {
    squares: (1 - t) ** 2 * one.squares + 2 * t * (1 - t) * cross * 0.97 + t * t * two.squares,
    sumSquared: sum * sum,
  };
}

/** Mean squared gain round a frequency, within a hertz. */
function meanGain({ gain, binHz }: Transfer, hz: number): number {
  const half = Math.max(1, Math.round(0.5 / binHz));
  const centre = Math.round(hz / binHz);
  let [sum, count] = [0, 0];
  for (let k = Math.max(0, centre - half); k <= Math.min(gain.length - 1, centre + half); k++) {
    sum += gain[k];
    count++;
  }
  return count > 0 ? sum / count : 0;
}

function lengthsFor(transfer: Transfer, noise: NoiseSpectrum | undefined): (hz: number) => number {
  const { band, longestS } = transfer;
  const centres: number[] = [];
  const lengths: number[] = [];
  for (let low = band.full; low < band.fullTo; low *= Math.SQRT2) {
    const high = Math.min(low * Math.SQRT2, band.to);
    const centre = Math.sqrt(low * high);
    centres.push(Math.log(centre));
    lengths.push(ringing(transfer, noise, Math.max(low * 0.85, band.from), high * 1.15, centre));
  }
  return (hz) => Math.min(held(centres, lengths, Math.log(hz)), longestS(hz));
}

/** How long a band rings above the noise, s. */
function ringing(
  transfer: Transfer,
  noise: NoiseSpectrum | undefined,
  lowHz: number,
  highHz: number,
  centreHz: number,
): number {
  const longest = LENGTHS_S[LENGTHS_S.length - 1];
  const least = Math.min(Math.max(LENGTHS_S[0], 6 / centreHz), longest);
  if (!noise) return longest;
  const { bins, binHz, arrivalS } = transfer;
  const smoothS = Math.max(0.06, 1.5 / (highHz - lowHz));
  const { energy, stepS, noiseGain } = bandEnergy(bins, binHz, lowHz, highHz, smoothS);
  // stationary noise under a window as long as the whole transform: its squared bins
  const length = transfer.noiseRateHz / binHz;
  const whole = { squares: length, sumSquared: length };
  const floor = noiseGain * noise.power(centreHz, whole) * meanGain(transfer, centreHz);
  const first = Math.round(arrivalS / stepS);
  for (let n = Math.floor(longest / stepS); n * stepS > least; n--) {
    const at = (((first + n) % energy.length) + energy.length) % energy.length;
    if (energy[at] > ABOVE_NOISE * floor) return Math.min(longest, n * stepS * 1.2 + 0.1);
  }
  return least;
}

/** On straight lines between places, held at the ends. */
function held(places: number[], values: number[], at: number): number {
  const i = places.findIndex((place) => place > at);
  if (i === 0) return values[0];
  if (i < 0) return values[values.length - 1];
  const t = (at - places[i - 1]) / (places[i] - places[i - 1]);
  return values[i - 1] + t * (values[i] - values[i - 1]);
}
