import { type FitModel, leastSquares } from '../fitting/leastSquares';
import type { DifferenceSamples } from './differenceSamples';
import type { Shape } from './shapes';

/** Two runs of one setting differ by about so much as a whole, dB (standard deviation); a level control by more. */
const REPEAT_DB = 0.15;

export interface ShapeFit {
  shape: Shape;
  /** Offset, then those of the shape. */
  parameters: Float64Array;
  cost: number;
}

export function lowest(fits: ShapeFit[]): ShapeFit {
  return fits.reduce((a, b) => (b.cost < a.cost ? b : a));
}

/**
 * Prepare fits of shapes and an offset to some samples.
 *
 * @returns a function of a shape, starts (the best of these is followed) and a first guess of the offset.
 */
export function fitterOf({ hz, differenceDb, sigma }: DifferenceSamples) {
  const x = Float64Array.from(hz, Math.log);
  const all = { y: Float64Array.from([...differenceDb, 0]), sigma: Float64Array.from([...sigma, REPEAT_DB]) };
  const levels = new Float64Array(x.length);
  return (shape: Shape, starts: number[][], startDb: number): ShapeFit => {
    const costOf = (parameters: ArrayLike<number>, offsetDb: number): number => {
      shape.fill(parameters, x, levels);
      let sum = 0;
      for (let i = 0; i < x.length; i++) sum += loss((differenceDb[i] - offsetDb - levels[i]) / sigma[i]);
      return sum / x.length;
    };
    const [best] = starts.map((start) => ({ start, cost: costOf(start, startDb) })).sort((a, b) => a.cost - b.cost);
    const { parameters } = leastSquares(modelOf(shape, x), all, [startDb, ...best.start]);
    return { shape, parameters, cost: costOf(parameters.subarray(1), parameters[0]) };
  };
}

/** Huber's loss: squares, beyond 1.5 sigma linear. */
function loss(off: number): number {
  const size = Math.abs(off);
  return size < 1.5 ? size * size : 3 * size - 2.25;
}

/** Samples of offset + shape, then the offset itself. */
function modelOf(shape: Shape, x: Float64Array): FitModel {
  const { length } = x;
  const stride = length + 1;
  return {
    bounds: [[-100, 100], ...shape.bounds],
    evaluate(parameters, values, slopes) {
      slopes.fill(0);
      slopes.fill(1, 0, stride);
      shape.fill(parameters.subarray(1), x, values.subarray(0, length), { into: slopes, from: stride, stride });
      values[length] = 0;
      for (let i = 0; i <= length; i++) values[i] += parameters[0];
    },
  };
}
