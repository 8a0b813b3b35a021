import type { Deconvolved, StepOf } from '../lib/model/step';

/** The step of a curve that came out of a capture, good unless told otherwise. */
export function deconvolved(capture: string, more: Partial<Deconvolved> = {}): StepOf<'deconvolve'> {
  return {
    did: 'deconvolve',
    with: {
      ...{ capture, stimulus: 'sweep', amplitudeDbfs: -12, delayMs: 0, delayFrom: 'phase', noiseFrom: 'unknown' },
      ...{ warnings: [], verdict: 'good' },
      ...more,
    },
  };
}
