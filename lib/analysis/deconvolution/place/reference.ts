import { realFft } from '../../../signal/fourier';
import { binFrequencies } from '../../../signal/spectrum';
import { sweepInverse } from '../../../signal/sweepInverse';
import { type Grid, gridOf } from '../grid';
import { planRate, reduceRate } from './reduceRate';
import { resample } from './resample';
import type { Stimulus } from './stimulus';

/** The law of a sweep in seconds, whatever the sample rate. */
export interface Law {
  startHz: number;
  endHz: number;
  rateSeconds: number;
  /** When it starts in the stimulus' file, s. */
  startS: number;
  amplitude: number;
}

/** A stimulus' spectrum on the grid of a capture. */
export interface Reference {
  stimulus: Stimulus;
  grid: Grid;
  spectrum: Float64Array;
  law?: Law;
  /** Closed inverse of the sweep on the same bins, worked out when first asked for. */
  inverse(): Float64Array;
}

const KEPT = 2;
const known = new Map<string, Reference>();

/**
 * Spectrum of a stimulus on the grid of a capture, whatever its own sample rate.
 *
 * @param stimulus what was played. @param captureRateHz the capture's rate before it was reduced.
 * @param bandHz band that was kept. @param grid the capture's grid. @param factors by which its rate was reduced.
 * @returns the last two are kept, since the runs of a ladder share one.
 */
export function referenceFor(
  stimulus: Stimulus,
  captureRateHz: number,
  bandHz: number,
  grid: Grid,
  factors: number[],
): Reference {
  const key = [stimulus.key, captureRateHz, bandHz, grid.length, ...factors].join(' ');
  const old = known.get(key);
  if (old) return old;
  const reference = make(stimulus, bandHz, grid, stimulus.sampleRateHz === captureRateHz ? factors : undefined);
  known.set(key, reference);
  if (known.size > KEPT) known.delete(known.keys().next().value!);
  return reference;
}

function make(stimulus: Stimulus, bandHz: number, grid: Grid, factors: number[] | undefined): Reference {
  const { seconds, sampleRateHz } = stimulus;
  const plan = factors ? { factors, rateHz: grid.rateHz } : planRate(sampleRateHz, bandHz, seconds);
  const reduced = reduceRate(stimulus.samples, sampleRateHz, bandHz, plan.factors);
  const ratio = plan.rateHz / grid.rateHz;
  const length = Math.min(grid.length, Math.ceil(reduced.length / ratio));
  const samples = Math.abs(ratio - 1) < 1e-12 ? reduced : resample(reduced, ratio, length);
  // sampled more or less often, a sound of the same spectrum has larger or smaller sums: one scale for both
  const spectrum = realFft(samples.length > grid.length ? samples.slice(0, grid.length) : samples, grid.length);
  const law = stimulus.plan && lawOf(stimulus);
  let inverse: Float64Array | undefined;
  return {
    stimulus,
    grid: gridOf(grid.rateHz, grid.length),
    spectrum,
    law,
    inverse: () => {
      inverse ??= closedInverse(stimulus, grid);
      return inverse;
    },
  };
}

function lawOf({ plan }: Stimulus): Law {
  const { startHz, endHz, rateSeconds, leadInSamples, sampleRateHz, amplitude } = plan!;
  return { startHz, endHz, rateSeconds, startS: leadInSamples / sampleRateHz, amplitude };
}

function closedInverse({ plan }: Stimulus, { rateHz, length }: Grid): Float64Array {
  const leadInSamples = (plan!.leadInSamples / plan!.sampleRateHz) * rateHz;
  return sweepInverse({ ...plan!, sampleRateHz: rateHz, leadInSamples }, binFrequencies(length / 2 + 1, rateHz));
}

/** When the sweep reaches a frequency, seconds after the stimulus' beginning. */
export function sweepTime({ startHz, rateSeconds, startS }: Law, hz: number): number {
  return startS + rateSeconds * Math.log(hz / startHz);
}

/** What frequency the sweep has at a time. */
export function sweepHz({ startHz, rateSeconds, startS }: Law, seconds: number): number {
  return startHz * Math.exp((seconds - startS) / rateSeconds);
}
