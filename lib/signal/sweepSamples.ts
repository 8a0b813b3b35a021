import type { SweepPlan } from './sweepPlan';
import { fadeEnds } from './windows';

/**
 * Samples of a planned sweep: lead-in, sweep with half-Hann fades at both ends, tail.
 *
 * @param plan from `planSweep`.
 * @returns `plan.totalSamples` samples, full scale = 1.
 *
 * Caution: a sweep at a low frequency and a high level can damage a driver and hurt ears before it sounds loud.
 * Start low, keep ear protection at hand, and stop at any noise that is not the tone.
 *
 * @example
 * sweepSamples(planSweep({ startHz: 5, endHz: 400, seconds: 20, sampleRateHz: 48000, levelDbfs: -20 }))
 */
export function sweepSamples(plan: SweepPlan): Float64Array {
  const { startHz, rateSeconds, sampleRateHz, amplitude, leadInSamples, sweepSamples: count } = plan;
  const samples = new Float64Array(plan.totalSamples);
  const sweep = samples.subarray(leadInSamples, leadInSamples + count);
  const radians = 2 * Math.PI * startHz * rateSeconds;
  for (let n = 0; n < count; n++) {
    sweep[n] = amplitude * Math.sin(radians * Math.expm1(n / (sampleRateHz * rateSeconds)));
  }
  fadeEnds(sweep, plan.fadeInSamples, plan.fadeOutSamples);
  return samples;
}

/**
 * Silence as long as a planned sweep: played in its place, the recording holds the noise alone.
 *
 * @param plan from `planSweep`.
 *
 * Notes: all samples are zero, so it starts and ends without a click. A converter that mutes itself on digital silence
 * shows less noise than it adds while playing; where that matters, take the noise from the sweep's lead-in instead.
 *
 * @example
 * mutedTwin(planSweep({ startHz: 5, endHz: 400, seconds: 20, sampleRateHz: 48000 })).every((x) => x === 0) // true
 */
export function mutedTwin(plan: SweepPlan): Float64Array {
  return new Float64Array(plan.totalSamples);
}
