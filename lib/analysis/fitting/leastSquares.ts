import { solveDamped } from './solveDamped';
import { upperMedian } from './upperMedian';

/** A model of some samples: fills in its values and, where asked, how they change with each parameter. */
export interface FitModel {
  /**
   * Values into `values`; partial derivatives into `slopes`, one column of samples after the other for each parameter.
   * Both hold what was there before and are to be filled wholly.
   */
  evaluate(parameters: Float64Array, values: Float64Array, slopes: Float64Array): void;
  /** Lowest and highest value of each parameter. */
  bounds: [low: number, high: number][];
}

/** Samples to fit: values, and how far off each may be by chance. */
export interface FitSamples {
  y: Float64Array;
  /** Standard deviation of each sample, in the unit of y. */
  sigma: Float64Array;
}

export interface Fit {
  parameters: Float64Array;
  /** y - model. */
  residuals: Float64Array;
  /** Weight that each sample was left with: 1 for those that agree, less for outliers. */
  trust: Float64Array;
  /** Residuals in units of sigma: robust standard deviation. */
  scale: number;
}

/** Residuals beyond this many robust deviations pull no harder than those at it. */
export const OUTLIER = 1.5;
const ROUNDS = 5;
const STEPS_A_ROUND = 8;
/** A step that lowers the cost by less than this part of it is the last. */
const SMALLEST_GAIN = 1e-4;
/** Below this part of sigma, residuals are as good as none. */
const SMALLEST_SCALE = 0.02;

/**
 * Fit a model to samples by damped least squares, outliers counting less.
 *
 * @param model values and derivatives. @param samples what to fit. @param start first guess.
 * @returns best parameters within the bounds.
 *
 * Each round solves weighted least squares with a damped Gauss-Newton step (Levenberg, Marquardt: damping scaled by
 * the diagonal, steps that do not help are taken back); between rounds samples are weighted anew by
 * min(1, 1.5 s / |r|), s from the median residual. Finds a local minimum: the first guess must be sensible. A roll-off
 * takes some 15 such fits within milliseconds, which the general fitting packages do not offer.
 *
 * Reference: D. W. Marquardt, J. Soc. Indust. Appl. Math. 11 (1963) 431-441; P. J. Huber, Ann. Math. Statist. 35 (1964)
 * 73-101 (weights).
 *
 * @example
 * const line: FitModel = { bounds: [[-9, 9]], evaluate: (p, v, s) => { v.fill(p[0]); s.fill(1); } };
 * leastSquares(line, { y: new Float64Array([1, 1, 1.1, 9]), sigma: new Float64Array(4).fill(1) }, [0]).parameters // about 1
 */
export function leastSquares(model: FitModel, samples: FitSamples, start: ArrayLike<number>): Fit {
  const { y, sigma } = samples;
  const count = y.length;
  const weights = new Float64Array(count);
  const trust = new Float64Array(count).fill(1);
  let [at, spare] = [blank(start.length, count), blank(start.length, count)];
  at.parameters.set(start);
  evaluate(model, at);
  let scale = 1;
  for (let round = 0; round < ROUNDS; round++) {
    for (let i = 0; i < count; i++) weights[i] = trust[i] / sigma[i] ** 2;
    const before = at.parameters.slice();
    [at, spare] = descend(model, y, weights, [at, spare]);
    const scaleBefore = scale;
    scale = Math.max(robustScale(samples, at.values), SMALLEST_SCALE);
    for (let i = 0; i < count; i++) {
      const off = Math.abs(y[i] - at.values[i]) / sigma[i];
      trust[i] = off > OUTLIER * scale ? (OUTLIER * scale) / off : 1;
    }
    let moved = 0;
    for (let k = 0; k < before.length; k++) moved = Math.max(moved, Math.abs(at.parameters[k] - before[k]));
    if (round > 0 && moved < 1e-4 && Math.abs(scale - scaleBefore) < 0.01 * scale) break;
  }
  return { parameters: at.parameters, residuals: y.map((value, i) => value - at.values[i]), trust, scale };
}

/** A model at some parameters. */
interface Evaluated {
  parameters: Float64Array;
  values: Float64Array;
  slopes: Float64Array;
}

function blank(size: number, count: number): Evaluated {
  return {
    parameters: new Float64Array(size),
    values: new Float64Array(count),
    slopes: new Float64Array(count * size),
  };
}

/** Put parameters inside their bounds, and fill in what the model gives there. */
function evaluate(model: FitModel, { parameters, values, slopes }: Evaluated): void {
  for (let k = 0; k < parameters.length; k++) {
    const bounds = model.bounds[k];
    parameters[k] = Math.min(Math.max(parameters[k], bounds[0]), bounds[1]);
  }
  model.evaluate(parameters, values, slopes);
}

/**
 * Weighted least squares from a first guess.
 *
 * @param two where to begin, and room for where to go: both are written over, since a fit takes hundreds of steps.
 * @returns the two, the best first.
 */
function descend(
  model: FitModel,
  y: Float64Array,
  weights: Float64Array,
  two: [at: Evaluated, spare: Evaluated],
): [at: Evaluated, spare: Evaluated] {
  let [at, there] = two;
  let cost = costOf(y, weights, at.values);
  let damping = 1e-3;
  for (let step = 0; step < STEPS_A_ROUND; step++) {
    const { normal, gradient } = normalEquations(y, weights, at);
    let gain = 0;
    while (damping < 1e6) {
      const move = solveDamped(normal, gradient, damping);
      for (let k = 0; k < move.length; k++) there.parameters[k] = at.parameters[k] + move[k];
      evaluate(model, there);
      const costThere = costOf(y, weights, there.values);
      if (costThere <= cost) {
        gain = cost - costThere;
        cost = costThere;
        [at, there] = [there, at];
        damping = Math.max(damping / 10, 1e-9);
        break;
      }
      damping *= 10;
    }
    if (gain <= SMALLEST_GAIN * cost) break;
  }
  return [at, there];
}

function costOf(y: Float64Array, weights: Float64Array, values: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < y.length; i++) sum += weights[i] * (y[i] - values[i]) ** 2;
  return sum;
}

function normalEquations(y: Float64Array, weights: Float64Array, { parameters, values, slopes }: Evaluated) {
  const size = parameters.length;
  const count = y.length;
  const normal = new Float64Array(size * size);
  const gradient = new Float64Array(size);
  const weighted = new Float64Array(count);
  for (let a = 0; a < size; a++) {
    for (let i = 0; i < count; i++) weighted[i] = weights[i] * slopes[a * count + i];
    for (let b = 0; b <= a; b++) {
      const column = b * count;
      let sum = 0;
      for (let i = 0; i < count; i++) sum += weighted[i] * slopes[column + i];
      normal[a * size + b] = sum;
    }
    let sum = 0;
    for (let i = 0; i < count; i++) sum += weighted[i] * (y[i] - values[i]);
    gradient[a] = sum;
  }
  return { normal, gradient };
}

function robustScale({ y, sigma }: FitSamples, values: Float64Array): number {
  const sizes = new Float64Array(y.length);
  for (let i = 0; i < y.length; i++) sizes[i] = Math.abs(y[i] - values[i]) / sigma[i];
  const upper = upperMedian(sizes);
  if (sizes.length % 2) return 1.4826 * upper;
  // what was put before the upper of the two middle ones holds the lower
  let lower = 0;
  for (let i = 0; i < sizes.length >> 1; i++) lower = Math.max(lower, sizes[i]);
  return 1.4826 * 0.5 * (lower + upper);
}
