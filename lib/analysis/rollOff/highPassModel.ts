import { levelOf, powerOf } from '../../model/decibel';
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
  const belowPower = hz.map((f) => 1 / (f * f));
  const abovePower = hz.map((f) => (f * f) ** shape.lowPass);
  const octaves = hz.map((f) => Math.log2(f / tiltHz));
  /** The signal's part of the power with noise. */
  const share = new Float64Array(count);
  const [first, ...others] = cornersOf(shape);
  const evaluate = (parameters: Float64Array, values: Float64Array, slopes: Float64Array): void => {
    slopes.fill(0);
    slopes.fill(1, 0, count);
    values.fill(1);
    for (const term of termsOf(shape, layout, parameters)) {
      applyTerm(term, term.exponent < 0 ? belowPower : abovePower, values, slopes, rows);
    }
    if (shape.tilt) slopes.set(octaves, layout.slope * rows);
    const gain = powerOf(parameters[0]);
    const tilt = shape.tilt ? parameters[layout.slope] : 0;
    for (let i = 0; i < count; i++) {
      const signal = (tilt === 0 ? gain : gain * powerOf(tilt * octaves[i])) / values[i];
      const whole = signal + noisePower[i];
      values[i] = levelOf(whole);
      share[i] = signal / whole;
    }
    for (let from = 0; from < slopes.length; from += rows) {
      for (let i = 0; i < count; i++) slopes[from + i] *= share[i];
    }
    others.forEach((at, n) => {
      values[count + n] = parameters[at] - parameters[first];
      slopes[at * rows + count + n] = 1;
      slopes[first * rows + count + n] = -1;
    });
  };
  return { evaluate, bounds };
}

/** Multiply a term into `values`, and write down what the level does with its parameters. `power` is f^(2 exponent). */
function applyTerm(term: Term, power: Float64Array, values: Float64Array, slopes: Float64Array, rows: number): void {
  const { at, scale, exponent, middle, middleSlope, square } = term;
  const corner = at * rows;
  const quality = corner + rows;
  const rate = 2 * exponent * DB;
  for (let i = 0; i < power.length; i++) {
    const v = power[i] * scale;
    const whole = 1 + v * (middle + square * v);
    const part = v / whole;
    values[i] *= whole;
    slopes[corner + i] = rate * part * (middle + 2 * square * v);
    if (square) slopes[quality + i] = -DB * middleSlope * part;
  }
}

/** 1 + middle v + square v^2, v = (f^2/fc^2)^exponent = scale f^(2 exponent); exponent -1 is a high-pass. */
interface Term {
  at: number;
  scale: number;
  exponent: number;
  middle: number;
  middleSlope: number;
  square: 0 | 1;
}

function termsOf(shape: HighPassShape, layout: ReturnType<typeof layoutOf>, p: Float64Array): Term[] {
  const terms: Term[] = [];
  const { first, pairs, low } = layout;
  const scaleOf = (k: number, exponent: number) => Math.exp(-2 * exponent * p[k]);
  if (shape.order % 2) {
    terms.push({ at: first, scale: scaleOf(first, -1), exponent: -1, middle: 1, middleSlope: 0, square: 0 });
  }
  for (let k = pairs; k < low; k += 2) {
    const inverse = Math.exp(-2 * p[k + 1]);
    const [middle, middleSlope] = [inverse - 2, -2 * inverse];
    terms.push({ at: k, scale: scaleOf(k, -1), exponent: -1, middle, middleSlope, square: 1 });
  }
  if (shape.lowPass) {
    const [scale, middle] = [scaleOf(low, shape.lowPass), 2 * p[low + 1]];
    terms.push({ at: low, scale, exponent: shape.lowPass, middle, middleSlope: 2, square: 1 });
  }
  return terms;
}
