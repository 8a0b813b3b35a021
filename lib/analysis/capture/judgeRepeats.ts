import type { Curve } from '../../model/curve';
import { BassloomError } from '../../model/errors';
import type { CaptureQuality, Deconvolution } from '../../model/findings';
import { addWarnings } from './addWarnings';
import { compareTakes } from './compareTakes';
import { takes } from './complaints';

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
    if (!repeatability) return one;
    const differs = takes(repeatability);
    return addWarnings(one, differs ? [differs] : [], { repeatability });
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
