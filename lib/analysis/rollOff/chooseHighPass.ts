import { type Fit, leastSquares, OUTLIER } from '../fitting/leastSquares';
import { type LogSamples, SAMPLES_PER_OCTAVE } from '../fitting/logSamples';
import { upperMedian } from '../fitting/upperMedian';
import { expectations, highPassModel } from './highPassModel';
import { butterworthQualities, type HighPassShape, layoutOf } from './highPassShape';

/** What a room leaves behind in a sample where nothing scatters, dB: first guess, and the least that is reckoned with. */
const LEFTOVER_DB = 0.3;
const LEAST_LEFTOVER_DB = 0.05;
/** Leftovers of a room hang together over a quarter of an octave: only so many looks at an octave are independent. */
const LOOKS_PER_OCTAVE = 4;
/** Boxes are of second or fourth order and do not tilt; all else must be better by so much (e^-3 to 1) to be believed. */
const UNUSUAL = 6;

export interface ChosenHighPass {
  shape: HighPassShape;
  fit: Fit;
  sigma: Float64Array;
  /** By how much the next best order is worse (as -2 ln of a likelihood); small: not sure. */
  lead: number;
}

interface Candidate {
  shape: HighPassShape;
  fit: Fit;
}

/**
 * Find the simplest high-pass that explains some samples.
 *
 * @param samples a roll-off. @param start first guesses: gain in dB, corner in Hz.
 * @returns shape and fit of the best.
 *
 * How much of a room is left in the curve is estimated from first fits. Then, for orders 2 and 4, an upper low-pass of
 * order 2, 4 or 8 beside it is taken in where it lowers loss + 2 k (after Akaike; k parameters); then orders, and a tilt,
 * are weighed by loss + k ln(n) (after Schwarz; n samples). The loss is the sum of squared residuals in units of what
 * each sample may be off, outliers counting linearly only (Huber); as leftovers of a room are not independent from
 * sample to sample, they count with more than their own size.
 */
export function chooseHighPass(samples: LogSamples, start: { gainDb: number; cornerHz: number }): ChosenHighPass {
  let sigma = deviations(samples, LEFTOVER_DB / Math.sqrt(SAMPLES_PER_OCTAVE / LOOKS_PER_OCTAVE));
  const run = (shape: HighPassShape, guess = firstGuess(shape, start, samples.hz)): Candidate => {
    const model = highPassModel(shape, samples, start.cornerHz * 2);
    const expected = expectations(shape);
    const fitted = { y: joined(samples.levelDb, new Array(expected.length).fill(0)), sigma: joined(sigma, expected) };
    return { shape, fit: leastSquares(model, fitted, guess) };
  };
  const loss = ({ shape, fit }: Candidate) => lossOf(fit, joined(sigma, expectations(shape)));
  const first = [2, 4].map((order) => run({ order, lowPass: 2, tilt: false }));
  sigma = deviations(samples, leftoverOf(samples, least(first, loss).fit));

  const withOrder = (from: Candidate) => {
    const worth = (c: Candidate) => loss(c) + 2 * layoutOf(c.shape).size;
    const alike = (lowPass: HighPassShape['lowPass']) => run({ ...from.shape, lowPass }, carriedOver(from, lowPass));
    const gentle = least(([0, 1, 2] as const).map(alike), worth);
    return gentle.shape.lowPass < 2 ? gentle : least([gentle, alike(4)], worth);
  };
  const tilted = ({ shape, fit }: Candidate) => run({ ...shape, tilt: true }, [...fit.parameters, 0]);
  const merit = (c: Candidate) => {
    const { order, lowPass, tilt } = c.shape;
    const size = layoutOf(c.shape).size - (lowPass ? 2 : 0);
    return (
      loss(c) +
      size * Math.log(samples.hz.length) +
      (order === 2 || order === 4 ? 0 : UNUSUAL) +
      (tilt ? UNUSUAL / 2 : 0)
    );
  };
  const tried = first.map(withOrder);
  if (least(tried, merit).shape.order === 4) tried.push(tilted(tried[1]));
  tried.push(tilted(tried[0]));
  const leader = least(tried, merit).shape;
  tried.push(...(leader.order === 2 ? [1, 3] : [3, 5, 6]).map((order) => run({ ...leader, order })));
  const best = least(tried, merit);
  const rivals = tried.filter(({ shape }) => shape.order !== best.shape.order);
  return { ...best, sigma, lead: merit(least(rivals, merit)) - merit(best) };
}

/** What each sample may be off: its scatter, and what is left of the room, the less the wider the sample reaches. */
function deviations({ scatterDb, octaves }: LogSamples, leftoverDb: number): Float64Array {
  return scatterDb.map((scatter, i) => Math.sqrt(scatter ** 2 + leftoverDb ** 2 / (LOOKS_PER_OCTAVE * octaves[i])));
}

/** What residuals hold beyond the scatter, dB. */
function leftoverOf({ scatterDb }: LogSamples, { residuals }: Fit): number {
  const off = 1.4826 * median(residuals.subarray(0, scatterDb.length).map(Math.abs));
  return Math.max(Math.sqrt(Math.max(off ** 2 - median(scatterDb) ** 2, 0)), LEAST_LEFTOVER_DB);
}

function median(values: Float64Array): number {
  return upperMedian(values.slice());
}

function least<T>(items: T[], measure: (item: T) => number): T {
  const measures = items.map(measure);
  return items[measures.reduce((best, one, i) => (one < measures[best] ? i : best), 0)];
}

function joined(column: Float64Array, more: number[]): Float64Array {
  const both = new Float64Array(column.length + more.length);
  both.set(column);
  both.set(more, column.length);
  return both;
}

/** Loss after Huber: z^2 of small residuals, 2 w |z| - w^2 of those beyond w. */
function lossOf({ residuals }: Fit, sigma: Float64Array): number {
  let loss = 0;
  for (let i = 0; i < sigma.length; i++) {
    const off = Math.abs(residuals[i]) / sigma[i];
    loss += off < 2 * OUTLIER ? off * off : 4 * OUTLIER * (off - OUTLIER);
  }
  return loss;
}

/** First guess for the same high-pass with another low-pass: what was found with this one. */
function carriedOver({ shape, fit }: Candidate, lowPass: HighPassShape['lowPass']): number[] {
  const found = Array.from(fit.parameters);
  return lowPass ? found : found.slice(0, layoutOf(shape).low);
}

function firstGuess(shape: HighPassShape, start: { gainDb: number; cornerHz: number }, hz: Float64Array): number[] {
  const corner = Math.log(start.cornerHz);
  const guess = [start.gainDb];
  if (shape.order % 2) guess.push(corner);
  for (const q of butterworthQualities(shape.order)) guess.push(corner, Math.log(q));
  if (shape.lowPass) guess.push(Math.log(hz[hz.length - 1]), 0.3);
  if (shape.tilt) guess.push(0);
  return guess;
}
