import { type FitModel, leastSquares } from '../fitting/leastSquares';
import type { DifferenceSamples } from './differenceSamples';
import { type Shape, shapes } from './shapes';

/** How a difference runs over frequency, as a smooth line through its samples. */
export interface DifferenceLine {
  /** What the settings differ by where the switch does nothing, dB. */
  offsetDb: number;
  /** Difference beyond the offset, dB. */
  db(hz: number): number;
  /** Of `db` far below; null where there is none or none can be told. */
  asymptoteDb: number | null;
  /** Weighted mean square of what is left, in units of the samples' scatter. */
  misfit: number;
  /** What is left in the worst octave beyond what the samples scatter there, dB rms. */
  restDb: number;
}

/** Step of the numeric derivatives: parameters are logarithms and decibels. */
const STEP = 1e-5;

/** Fit every shape that a switch may have and return the one that leaves least, or undefined with too few samples. */
export function fitShape(samples: DifferenceSamples): DifferenceLine | undefined {
  if (samples.hz.length < 8) return undefined;
  const fits = shapes.flatMap((shape) => fitOne(shape, samples) ?? []);
  return fits.reduce<DifferenceLine | undefined>(
    (best, fit) => (best && best.misfit <= fit.misfit ? best : fit),
    undefined,
  );
}

function fitOne(shape: Shape, { hz, differenceDb: y, sigma }: DifferenceSamples): DifferenceLine | undefined {
  const [lowHz, highHz] = [hz[0], hz[hz.length - 1]];
  const model = modelOf(shape, hz);
  const above = mean(y.slice(-Math.ceil(y.length / 4)));
  const below = mean(y.slice(0, Math.ceil(y.length / 10)));
  const fits = shape
    .starts(lowHz, highHz, below - above)
    .map((start) => leastSquares(model, { y, sigma }, [above, ...start]))
    .map((fit) => ({ ...fit, cost: costOf(fit.residuals, sigma) }));
  const best = fits.reduce((a, b) => (b.cost < a.cost ? b : a));
  const [offsetDb, ...parameters] = best.parameters;
  return {
    offsetDb,
    db: (f) => shape.db(f, parameters),
    asymptoteDb: shape.asymptoteDb(parameters),
    misfit: best.cost,
    restDb: restDb(hz, best.residuals, sigma),
  };
}

function modelOf(shape: Shape, hz: number[]): FitModel {
  const size = shape.bounds.length + 1;
  return {
    bounds: [[-100, 100], ...shape.bounds],
    evaluate(parameters, values, slopes) {
      const own = [...parameters.subarray(1)];
      for (let i = 0; i < hz.length; i++) values[i] = parameters[0] + shape.db(hz[i], own);
      slopes.fill(1, 0, hz.length);
      for (let k = 1; k < size; k++) {
        const [up, down] = [[...own], [...own]];
        up[k - 1] += STEP;
        down[k - 1] -= STEP;
        for (let i = 0; i < hz.length; i++) {
          slopes[k * hz.length + i] = (shape.db(hz[i], up) - shape.db(hz[i], down)) / (2 * STEP);
        }
      }
    },
  };
}

/** Mean of the samples' squared misses, those beyond three sigma counting linearly (Huber's loss). */
function costOf(residuals: Float64Array, sigma: Float64Array): number {
  return mean(
    residuals.map((rest, i) => {
      const off = Math.abs(rest / sigma[i]);
      return off < 3 ? off * off : 6 * off - 9;
    }),
  );
}

/** The worst octave's rms beyond chance. A quiet top with many samples must not hide a bottom that does not fit. */
export function restDb(hz: number[], residuals: ArrayLike<number>, sigma: ArrayLike<number>): number {
  const octaves = new Map<number, { left: number; count: number }>();
  hz.forEach((f, i) => {
    const octave = Math.floor(2 * Math.log2(f)) / 2;
    for (const key of [octave, octave - 0.5]) {
      const { left, count } = octaves.get(key) ?? { left: 0, count: 0 };
      octaves.set(key, { left: left + residuals[i] ** 2 - 1.5 * sigma[i] ** 2, count: count + 1 });
    }
  });
  const rests = [...octaves.values()].filter(({ count }) => count >= 4).map(({ left, count }) => left / count);
  return Math.sqrt(Math.max(0, ...rests));
}

function mean(values: ArrayLike<number>): number {
  let sum = 0;
  for (let i = 0; i < values.length; i++) sum += values[i];
  return sum / values.length;
}
