import { powerOf } from '../../model/decibel';
import type { FitModel } from '../fitting/leastSquares';
import type { LogSamples } from '../fitting/logSamples';
import { cornersOf, type HighPassShape, layoutOf } from './highPassShape';

const DB = 10 / Math.LN10;
/** A steeper tilt than this, dB per octave, is no tilt but a roll-off. */
const GENTLE_TILT = 2;

/** Corners of the sections of one box lie this close together, natural logarithm, standard deviation (common practice). */
const CORNER_SPREAD = 0.35;

/** Standard deviations of what is expected of a shape before any sample is seen, one for each row after the samples. */
export function expectations({ order }: HighPassShape): number[] {
  return new Array(Math.max(Math.ceil(order / 2) - 1, 0)).fill(CORNER_SPREAD);
}

/**
 * Model of a roll-off over some samples: gain, high-pass, low-pass and tilt in dB, the noise added as power; after the
 * samples, for every further section, how far its corner lies from the first one's.
 *
 * Corners and qualities are fitted as logarithms, so that they stay above 0. `tiltHz` is where a tilt does nothing.
 */
export function highPassModel(shape: HighPassShape, samples: LogSamples, tiltHz: number): FitModel {
  const { hz, noisePower } = samples;
  const layout = layoutOf(shape);
  const [lowest, highest] = [hz[0], hz[hz.length - 1]];
  // One of several sections that only works below the samples explains nothing but their noise.
  const corner: [number, number] = [Math.log(shape.order > 2 ? lowest : lowest / 2), Math.log(highest * 2)];
  const bounds: [number, number][] = new Array(layout.size).fill([-1e4, 1e4]);
  bounds.fill(corner, layout.first, layout.low);
  for (let k = layout.pairs; k < layout.low; k += 2) bounds[k + 1] = [Math.log(0.2), Math.log(5)];
  if (shape.lowPass) {
    bounds[layout.low] = [Math.log(lowest * 2), Math.log(highest * 4)];
    bounds[layout.low + 1] = [-0.6, 2];
  }
  if (shape.tilt) bounds[layout.slope] = [-GENTLE_TILT, GENTLE_TILT];

  const count = hz.length;
  const rows = count + expectations(shape).length;
  const square = hz.map((f) => f * f);
  const octaves = hz.map((f) => Math.log2(f / tiltHz));
  const evaluate = (parameters: Float64Array, values: Float64Array, slopes: Float64Array): void => {
    slopes.fill(0);
    slopes.fill(1, 0, count);
    values.fill(1);
    for (const term of termsOf(shape, layout, parameters)) applyTerm(term, square, values, slopes, rows);
    for (let i = 0; i < count; i++) values[i] = parameters[0] - DB * Math.log(values[i]);
    if (shape.tilt) {
      const tilt = parameters[layout.slope];
      slopes.set(octaves, layout.slope * rows);
      for (let i = 0; i < count; i++) values[i] += tilt * octaves[i];
    }
    for (let i = 0; i < count; i++) {
      if (noisePower[i] === 0) continue;
      const share = 1 / (1 + noisePower[i] / powerOf(values[i]));
      values[i] -= DB * Math.log(share);
      for (let k = i; k < slopes.length; k += rows) slopes[k] *= share;
    }
    const [first, ...others] = cornersOf(shape);
    others.forEach((at, n) => {
      values[count + n] = parameters[at] - parameters[first];
      slopes[at * rows + count + n] = 1;
      slopes[first * rows + count + n] = -1;
    });
  };
  return { evaluate, bounds };
}

/** Multiply a term into `values`, and write down what the level does with its parameters. */
function applyTerm(term: Term, square: Float64Array, values: Float64Array, slopes: Float64Array, rows: number): void {
  const { at, f2, exponent, middle, middleSlope, square: last } = term;
  const count = square.length;
  // v goes with exp(+2 ln fc) for a high-pass, with exp(-2p ln fc) for a low-pass.
  const rate = exponent > 0 ? 2 * exponent * DB : -2 * DB;
  for (let i = 0; i < count; i++) {
    const ratio = exponent > 0 ? square[i] / f2 : f2 / square[i];
    const twice = ratio * ratio;
    const v = exponent === 2 ? twice : exponent === 4 ? twice * twice : ratio;
    const whole = 1 + v * (middle + last * v);
    values[i] *= whole;
    slopes[at * rows + i] = (rate * v * (middle + 2 * last * v)) / whole;
    if (last) slopes[(at + 1) * rows + i] = (-DB * middleSlope * v) / whole;
  }
}

/** 1 + middle v + square v^2, v = (f^2/fc^2)^exponent; exponent -1 is a high-pass. */
interface Term {
  at: number;
  f2: number;
  exponent: number;
  middle: number;
  middleSlope: number;
  square: 0 | 1;
}

function termsOf(shape: HighPassShape, layout: ReturnType<typeof layoutOf>, p: Float64Array): Term[] {
  const terms: Term[] = [];
  const f2 = (k: number) => Math.exp(2 * p[k]);
  if (shape.order % 2) {
    terms.push({ at: layout.first, f2: f2(layout.first), exponent: -1, middle: 1, middleSlope: 0, square: 0 });
  }
  for (let k = layout.pairs; k < layout.low; k += 2) {
    const inverse = Math.exp(-2 * p[k + 1]);
    terms.push({ at: k, f2: f2(k), exponent: -1, middle: inverse - 2, middleSlope: -2 * inverse, square: 1 });
  }
  if (shape.lowPass) {
    const k = layout.low;
    terms.push({ at: k, f2: f2(k), exponent: shape.lowPass, middle: 2 * p[k + 1], middleSlope: 2, square: 1 });
  }
  return terms;
}
