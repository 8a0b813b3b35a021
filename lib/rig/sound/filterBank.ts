import { inverseRealFft, realFft } from '../../signal/fourier';
import type { Gain } from '../unitResponse';
import { complexOf } from './complex';

/** A grid of frequencies on which gains are known, coarse enough to be reckoned fast, fine enough to ring out. */
export interface Grid {
  rateHz: number;
  /** Samples of an impulse response; the step of the grid is the rate by this. */
  length: number;
  /** Upper end of the band that is exact, and where everything has faded out. */
  bandHz: number;
  topHz: number;
}

/** Part of an impulse response that comes before its time: what fading the top out smears ahead. */
const AHEAD = 1 / 8;

/** 1, 2, 3 ... times a step, none above the top. */
export function stepsUpTo(stepHz: number, topHz: number): number[] {
  return Array.from({ length: Math.floor(topHz / stepHz) }, (_, k) => (k + 1) * stepHz);
}

/**
 * Spectrum, in the bins of a longer transform, of the filter that has given gains.
 *
 * @param grid where the gains are given. @param gains at the steps of the grid up to its top. @param length of the transform, a power of
 * two. @param atZero gain at 0 Hz.
 * @returns N/2 + 1 complex bins, faded out by half a Hann window from `bandHz` to `topHz`.
 *
 * Notes: by way of the impulse response, which is followed by silence: between the grid's frequencies the gain is
 * exact as long as the response has rung out within the grid's length.
 */
export function filterSpectrum(grid: Grid, gains: Gain[], length: number, atZero: number): Float64Array {
  const stepHz = grid.rateHz / grid.length;
  const coarse = new Float64Array(grid.length + 2);
  coarse[0] = atZero;
  gains.forEach((gain, i) => {
    const hz = (i + 1) * stepHz;
    const share = Math.min(1, Math.max(0, (grid.topHz - hz) / (grid.topHz - grid.bandHz)));
    const fade = (1 - Math.cos(Math.PI * share)) / 2;
    const [re, im] = complexOf(gain);
    coarse[2 * i + 2] = fade * re;
    coarse[2 * i + 3] = fade * im;
  });
  const impulse = inverseRealFft(coarse);
  const ahead = Math.round(grid.length * AHEAD);
  const placed = new Float64Array(length);
  placed.set(impulse.subarray(0, grid.length - ahead));
  placed.set(impulse.subarray(grid.length - ahead), length - ahead);
  return realFft(placed);
}
