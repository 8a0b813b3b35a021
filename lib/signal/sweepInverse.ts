import type { SweepPlan } from './sweepPlan';

/**
 * Spectrum by which the spectrum of a captured sweep is multiplied to give the transfer from stimulus to capture,
 * in closed form: (2 / (a fs)) sqrt(f / L) exp(-j 2 pi f L (1 - ln(f / f1)) + j pi / 4 + j 2 pi f t0).
 *
 * @param plan the sweep that was played; t0 is its lead-in.
 * @param frequencyHz Hz, in any order; 0 gives 0.
 * @returns a complex value per frequency, real and imaginary parts in turn.
 *
 * Notes: it holds for the endless sweep without fades (stationary phase). Inside the swept range it ripples round the
 * true inverse, most near the ends. Unlike the division by the stimulus it does not stop at the sweep's end, which
 * harmonics need: the n-th one arrives `harmonicLead` earlier and is swept up to n f2. Below f1 it only raises noise:
 * fade what comes out there.
 *
 * Reference: A. Novak, P. Lotton, L. Simon, Synchronized swept-sine, J. Audio Eng. Soc. 63 (2015) 786-798, section 3
 * (from memory; checked by the stationary phase of the sweep).
 *
 * @example
 * const plan = planSweep({ startHz: 5, endHz: 400, seconds: 20, sampleRateHz: 48000 });
 * sweepInverse(plan, [20, 40]) // [re, im, re, im]
 */
export function sweepInverse(plan: SweepPlan, frequencyHz: ArrayLike<number>): Float64Array {
  const { startHz, rateSeconds, sampleRateHz, amplitude, leadInSamples } = plan;
  const inverse = new Float64Array(2 * frequencyHz.length);
  const scale = 2 / (amplitude * sampleRateHz * Math.sqrt(rateSeconds));
  const start = leadInSamples / sampleRateHz;
  for (let i = 0; i < frequencyHz.length; i++) {
    const hz = frequencyHz[i];
    if (!(hz > 0)) continue;
    const turns = hz * (start - rateSeconds * (1 - Math.log(hz / startHz))) + 1 / 8;
    const angle = 2 * Math.PI * (turns - Math.round(turns));
    inverse[2 * i] = scale * Math.sqrt(hz) * Math.cos(angle);
    inverse[2 * i + 1] = scale * Math.sqrt(hz) * Math.sin(angle);
  }
  return inverse;
}

/**
 * Time by which the impulse response of the n-th harmonic comes before that of the fundamental: L ln n.
 *
 * @param plan the sweep. @param order n, 1 for the fundamental.
 * @returns seconds.
 *
 * @example
 * harmonicLead(planSweep({ startHz: 5, endHz: 400, seconds: 20, sampleRateHz: 48000 }), 2) // 3.19
 */
export function harmonicLead(plan: SweepPlan, order: number): number {
  return plan.rateSeconds * Math.log(order);
}
