import type { Caveat } from '../../model/caveat';
import type { Curve, Recording } from '../../model/curve';
import type { Deconvolution } from '../../model/findings';
import type { CaptureFacts } from './captureFacts';
import { judged } from './judgeCapture';

/**
 * Add to what is said of a capture: its verdict follows, and so do the steps of its curves.
 *
 * @param facts that have become known of it.
 */
export function addWarnings(
  one: Deconvolution,
  caveats: readonly Caveat[],
  facts?: Partial<CaptureFacts>,
): Deconvolution {
  const quality = judged({ ...one.quality, ...facts }, [...one.quality.warnings, ...caveats]);
  const { verdict, warnings } = quality;
  const restated = <M extends Curve | Recording>(measurement: M): M => ({
    ...measurement,
    steps: measurement.steps.map((step) =>
      step.did === 'deconvolve' ? { ...step, with: { ...step.with, verdict, warnings } } : step,
    ),
  });
  return {
    ...one,
    impulse: restated(one.impulse),
    response: restated(one.response),
    harmonics: one.harmonics.map(restated),
    quality,
  };
}
