import type { Caveat } from '../model/caveat';
import type { Curve } from '../model/curve';
import { makeCaveat } from '../words/makeCaveat';
import { sharedMarks } from './captureWarnings';

/** More captures than this share one caveat. */
const MOST_ALONE = 3;

/**
 * Say which of the captures that some curves come from are bad or doubtful.
 *
 * @param curves what a finding rests on. @returns a caveat for each such capture, however many curves come from it, a
 * warning where it is bad; more than three share one, which counts them.
 *
 * @example
 * captureCaveats([makeCurve({ frequencyHz: [20], levelDb: [80] })]) // []
 */
export function captureCaveats(curves: readonly Curve[]): Caveat[] {
  const marks = sharedMarks(curves).captures ?? [];
  if (marks.length <= MOST_ALONE) {
    return marks.map(({ capture, label, verdict }) =>
      makeCaveat('capture-not-good', 'doubt', { label, verdict, recording: capture }, { curve: capture }),
    );
  }
  const bad = marks.filter(({ verdict }) => verdict === 'bad').length;
  return [makeCaveat('captures-not-good', 'doubt', { bad, doubtful: marks.length - bad })];
}
