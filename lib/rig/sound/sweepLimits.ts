import { planSweep, type SweepSpec } from '../../signal/sweepPlan';
import type { Timeline } from './timeline';

/** What part of a sweep a recording caught, by its direct sound. */
export interface SweepLimits {
  missedBelowHz: number | null;
  truncatedAtHz: number | null;
}

/**
 * Frequency that a sweep had reached, at the microphone, when the recording began and when it ended.
 *
 * @param time of the recording. @param spec the sweep that was played, with the lead-in of `planSweep`.
 */
export function sweepLimits(time: Timeline, spec: SweepSpec): SweepLimits {
  const { leadInSamples, sampleRateHz, rateSeconds, sweepSeconds, startHz } = planSweep(spec);
  const arrivesS = time.latencyS + time.flightS + leadInSamples / sampleRateHz;
  const reached = (atS: number) => startHz * Math.exp((atS - arrivesS) / rateSeconds);
  const endS = time.startS + time.count * time.stepS;
  return {
    missedBelowHz: time.startS > arrivesS ? reached(time.startS) : null,
    truncatedAtHz: endS < arrivesS + sweepSeconds ? reached(endS) : null,
  };
}
