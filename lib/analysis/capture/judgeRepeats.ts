import type { Curve, Recording } from '../../model/curve';
import { BassloomError } from '../../model/errors';
import type { CaptureQuality, Deconvolution } from '../../model/findings';
import { compareTakes } from './compareTakes';
import { judgeCapture } from './judgeCapture';

/**
 * Compare takes of the same run among what came out of some captures, and judge those captures anew.
 *
 * @param found results of `deconvolve`, in any order. @returns the same in the same order; where there is another take
 * that is not bad, `quality` holds `repeatability`, its verdict and warnings follow, and so do the steps of the curves.
 *
 * Notes: takes of the same run agree in device, setting, drive, position and distance, and their drive is known. A take
 * is compared with the first other one. Takes with no trusted band in common are left as they are.
 *
 * @example
 * judgeRepeats(await Promise.all(captures.map((capture) => deconvolve(capture, sweep))))
 */
export function judgeRepeats(found: Deconvolution[]): Deconvolution[] {
  return found.map((one) => {
    const run = runOf(one.quality);
    const other = found.find((o) => o !== one && o.quality.verdict !== 'bad' && run && run === runOf(o.quality));
    const repeatability = other && compared(one.response, other.response);
    return repeatability ? judgedAnew(one, repeatability) : one;
  });
}

function runOf({ about: { device, setting, driveDb, position, distanceM } }: CaptureQuality): string | undefined {
  return driveDb === undefined ? undefined : JSON.stringify([device, setting, driveDb, position, distanceM]);
}

function compared(a: Curve, b: Curve): CaptureQuality['repeatability'] {
  try {
    return compareTakes(a, b);
  } catch (problem) {
    if (problem instanceof BassloomError && problem.code === 'takes-no-band') return undefined;
    throw problem;
  }
}

const GRAVITY = ['good', 'doubtful', 'bad'] as const;

function judgedAnew(one: Deconvolution, repeatability: CaptureQuality['repeatability']): Deconvolution {
  const { verdict: before, warnings: said, ...facts } = one.quality;
  const judged = judgeCapture({ ...facts, repeatability }, one.response.scale);
  // what was said beyond the facts stays said
  const warnings = [
    ...judged.warnings,
    ...said.filter(({ message }) => !judged.warnings.some((one) => one.message === message)),
  ];
  const verdict = GRAVITY[Math.max(GRAVITY.indexOf(before), GRAVITY.indexOf(judged.verdict))];
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
    quality: { ...judged, verdict, warnings },
  };
}
