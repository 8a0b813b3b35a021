import { inverseRealFft } from '../../../signal/fourier';
import type { Fundamental, Transfer } from '../divide/fundamental';
import { readBins } from '../divide/readBins';
import type { NoiseSpectrum } from '../noise/noiseSpectrum';
import type { Law, Reference } from '../place/reference';
import { stretchSpectrum, type TimeWindow, windowSums } from '../window/timeWindow';
import { harmonicShape } from './harmonicShape';

/** Ends of a harmonic's range are raised by 10 dB at most. */
const LEAST_SHAPE = 0.316;

/** What harmonics are found from. */
export interface HarmonicInput {
  /** Spectrum of the capture, and of the stimulus, on one grid. */
  capture: Float64Array;
  stimulus: Float64Array;
  /** Closed inverse of the sweep on the same grid, and what turns the clocks' difference out of it. */
  inverse: Float64Array;
  turn?: (bins: Float64Array) => Float64Array;
  rateHz: number;
  reference: Reference;
  law: Law;
  transfer: Transfer;
  fundamental: Fundamental;
  noise: NoiseSpectrum | undefined;
  /** Highest frequency that the grid holds whole, Hz, and highest fundamental that can be trusted. */
  bandHz: number;
  topHz: number;
}

/** One harmonic over the frequency of its fundamental, power re the fundamental's. */
export interface Harmonic {
  order: number;
  frequencyHz: number[];
  power: number[];
  noise: number[];
}

/** Where the room is divided out, up to this share of the sweep's end, and from where not any more. */
const SHARED_TO = 0.8;
const APART_FROM = 0.93;
/** Dips of the response are filled up to that share of what lies around them before it is divided by. */
const FILL = 0.0005;

/**
 * Levels of the harmonics of a captured sweep.
 *
 * @param input spectra, sweep, and what is known of the fundamental. @param highest order, 2 or more.
 * @param frequencyHz of the fundamental, rising.
 *
 * Notes: what the fundamental explains is taken off the capture first; the rest is multiplied by the closed inverse,
 * which puts harmonic n at L ln n before the arrival. A harmonic passes the same room as the fundamental at its
 * frequency and rings as long, longer than a fast sweep leaves until the next order comes. So inside the swept range
 * the rest is divided by the response: the ringing goes, all that remains of an order is short, and a short window
 * takes it and little noise. Above the sweep's end the response is not known; there the windows are as long as the
 * spacing allows, and a room that rings longer than that smears one order into the next.
 */
export function findHarmonics(input: HarmonicInput, highest: number, frequencyHz: number[]): Harmonic[] {
  const { transfer, fundamental, law, bandHz, topHz } = input;
  const h = fundamental.onBins();
  const rest = restOf(input, h);
  const shared = withoutRoom(input, rest, h);
  const plain = { impulse: inverseRealFft(rest), rateHz: input.rateHz };
  const base = fundamental.read(frequencyHz);
  const found: Harmonic[] = [];
  for (let order = 2; order <= highest; order++) {
    const used = frequencyHz.flatMap((hz, i) => (hz * order <= bandHz && hz <= topHz ? [i] : []));
    if (used.length < 2) break;
    const at = used.map((i) => frequencyHz[i] * order);
    const lead = law.rateSeconds * Math.log(order);
    const up = law.rateSeconds * Math.log((order + 1) / order);
    const down = law.rateSeconds * Math.log(order / (order - 1));
    const short = windowFor(up, down, 0.35, 0.7);
    const long = windowFor(up, down, 0.35, 1.2);
    const low = at.filter((hz) => hz < APART_FROM * topHz).length;
    const a = readShared(input, shared, short, -lead, at.slice(0, low));
    const from = at.findIndex((hz) => hz > SHARED_TO * topHz);
    const b = from < 0 ? undefined : readPlain(input, plain, long, transfer.arrivalS - lead, at.slice(from));
    const shape = harmonicShape(input.reference, order, short, at);
    const power: number[] = [];
    const noise: number[] = [];
    for (let m = 0; m < at.length; m++) {
      const t = Math.min(Math.max((at[m] / topHz - SHARED_TO) / (APART_FROM - SHARED_TO), 0), 1);
      const i = used[m];
      // re the fundamental, and re what an ideal harmonic would have come out as
      const own = (base[2 * i] ** 2 + base[2 * i + 1] ** 2) * Math.max(shape[m], LEAST_SHAPE) ** 2;
      power.push(mix(a.power[m], b?.power[m - from] ?? 0, t) / own);
      noise.push(mix(a.noise[m], b?.noise[m - from] ?? 0, t) / own);
    }
    found.push({ order, frequencyHz: used.map((i) => frequencyHz[i]), power, noise });
  }
  return found;
}

/** From one to the other on a line over their logarithms. */
function mix(low: number, high: number, t: number): number {
  return t === 0 ? low : t === 1 ? high : low ** (1 - t) * high ** t;
}

/** Shares of the spacing to the orders before and after, and no more than some seconds. */
function windowFor(up: number, down: number, most: number, mostAfter: number): TimeWindow {
  const before = Math.min(0.55 * up, most);
  const after = Math.min(0.92 * down, mostAfter);
  return { before, wholeBefore: 0.3 * before, wholeAfter: 0.6 * after, after };
}

/** (Y - X H) times the closed inverse, faded above what the grid holds. */
function restOf(input: HarmonicInput, h: Float64Array): Float64Array {
  const { capture, stimulus, inverse, turn, transfer, bandHz } = input;
  let rest: Float64Array = new Float64Array(capture.length);
  const last = Math.min(capture.length / 2 - 1, Math.ceil((bandHz * 1.1) / transfer.binHz));
  const x = new Float64Array(Math.min(h.length, capture.length));
  for (let i = 0; i < x.length; i += 2) {
    x[i] = stimulus[i] * h[i] - stimulus[i + 1] * h[i + 1];
    x[i + 1] = stimulus[i] * h[i + 1] + stimulus[i + 1] * h[i];
  }
  // the clocks' difference was turned out of H; it is turned out of Y here, by way of the product with the inverse
  for (let k = 1; k <= last; k++) {
    const i = 2 * k;
    const fade = Math.min(1, Math.max(0, (bandHz * 1.1 - k * transfer.binHz) / (0.08 * bandHz)));
    rest[i] = fade * (capture[i] * inverse[i] - capture[i + 1] * inverse[i + 1]);
    rest[i + 1] = fade * (capture[i] * inverse[i + 1] + capture[i + 1] * inverse[i]);
  }
  if (turn) rest = turn(rest);
  for (let k = 1; 2 * k < x.length && k <= last; k++) {
    const i = 2 * k;
    rest[i] -= x[i] * inverse[i] - x[i + 1] * inverse[i + 1];
    rest[i + 1] -= x[i] * inverse[i + 1] + x[i + 1] * inverse[i];
  }
  return rest;
}

interface Shared {
  impulse: Float64Array;
  rateHz: number;
  /** Squared magnitude that was divided by, on the bins. */
  divisor: Float64Array;
  /** Sums of 1 / divisor over all bins before each, and how many of them there are. */
  raised: Float64Array;
  counted: Float64Array;
}

/** The rest divided by the response, up to the sweep's end. */
function withoutRoom({ transfer, topHz, law }: HarmonicInput, rest: Float64Array, h: Float64Array): Shared {
  const { binHz, impulse } = transfer;
  const bins = new Float64Array(impulse.length + 2);
  const divisor = new Float64Array(bins.length / 2);
  const around = aroundOf(h);
  const [from, full] = [law.startHz * 1.1, law.startHz * 1.5];
  const last = Math.min(divisor.length - 1, Math.floor((topHz * 0.99) / binHz));
  for (let k = Math.ceil(from / binHz); k <= last; k++) {
    const i = 2 * k;
    const hz = k * binHz;
    const power = h[i] ** 2 + h[i + 1] ** 2;
    const filled = power + FILL * around[k];
    if (!(power > 0)) continue;
    const edge = Math.min(1, (hz - from) / (full - from), (topHz * 0.99 - hz) / (topHz * 0.06));
    const scale = (0.5 - 0.5 * Math.cos(Math.PI * edge)) / filled;
    bins[i] = scale * (rest[i] * h[i] + rest[i + 1] * h[i + 1]);
    bins[i + 1] = scale * (rest[i + 1] * h[i] - rest[i] * h[i + 1]);
    divisor[k] = filled ** 2 / power;
  }
  const raised = new Float64Array(divisor.length + 1);
  const counted = new Float64Array(divisor.length + 1);
  for (let k = 0; k < divisor.length; k++) {
    const isIn = k > 0 && divisor[k] > 0;
    raised[k + 1] = raised[k] + (isIn ? 1 / divisor[k] : 0);
    counted[k + 1] = counted[k] + (isIn ? 1 : 0);
  }
  return { impulse: inverseRealFft(bins), rateHz: transfer.rateHz, divisor, raised, counted };
}

/** Mean power over a third of an octave. */
function aroundOf(h: Float64Array): Float64Array {
  const count = h.length / 2;
  const sums = new Float64Array(count + 1);
  for (let k = 0; k < count; k++) sums[k + 1] = sums[k] + h[2 * k] ** 2 + h[2 * k + 1] ** 2;
  const around = new Float64Array(count);
  for (let k = 0; k < count; k++) {
    const half = Math.max(2, Math.round(k * 0.12));
    const [a, b] = [Math.max(0, k - half), Math.min(count, k + half + 1)];
    around[k] = (sums[b] - sums[a]) / (b - a);
  }
  return around;
}

interface Reading {
  power: number[];
  noise: number[];
}

function readShared(input: HarmonicInput, shared: Shared, window: TimeWindow, at: number, hz: number[]): Reading {
  const { binHz } = input.transfer;
  const spectrum = stretchSpectrum(shared.impulse, shared.rateHz, at, window);
  const values = readBins(spectrum.bins, spectrum.binHz, 0.1 * window.after, hz);
  const sums = windowSums(window, input.rateHz);
  const spread = Math.max(1, Math.round(0.5 / (window.before + window.after) / binHz));
  const power: number[] = [];
  const noise: number[] = [];
  for (let m = 0; m < hz.length; m++) {
    const f = hz[m];
    const k = Math.min(Math.round(f / binHz), shared.divisor.length - 1);
    const below = Math.min(Math.floor(f / binHz), shared.divisor.length - 2);
    const t = f / binHz - below;
    const divisor = shared.divisor[below] * (1 - t) + shared.divisor[below + 1] * t;
    power.push((values[2 * m] ** 2 + values[2 * m + 1] ** 2) * divisor);
    // noise in dips of the response was raised, and the window spreads it to its neighbours
    const [from, to] = [Math.max(0, k - spread), Math.min(shared.divisor.length, k + spread + 1)];
    const count = shared.counted[to] - shared.counted[from];
    const mean = count > 0 ? (shared.raised[to] - shared.raised[from]) / count : 0;
    noise.push(noiseAt(input, f, sums) * mean * shared.divisor[k]);
  }
  return { power, noise };
}

function readPlain(
  input: HarmonicInput,
  plain: { impulse: Float64Array; rateHz: number },
  window: TimeWindow,
  at: number,
  hz: number[],
): Reading {
  const spectrum = stretchSpectrum(plain.impulse, plain.rateHz, at, window);
  const values = readBins(spectrum.bins, spectrum.binHz, 0.1 * window.after, hz);
  const sums = windowSums(window, input.rateHz);
  return {
    power: hz.map((_, m) => values[2 * m] ** 2 + values[2 * m + 1] ** 2),
    noise: hz.map((f) => noiseAt(input, f, sums)),
  };
}

/** Noise behind the closed inverse, whose squared magnitude is 4 f / (a^2 fs^2 L). */
function noiseAt(
  { noise, law, rateHz }: HarmonicInput,
  hz: number,
  sums: { squares: number; sumSquared: number },
): number {
  if (!noise) return 0;
  return (noise.power(hz, sums) * 4 * hz) / ((law.amplitude * rateHz) ** 2 * law.rateSeconds);
}
