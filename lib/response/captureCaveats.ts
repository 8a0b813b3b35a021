import type { Caveat } from '../model/caveat';
import type { Curve } from '../model/curve';
import { makeCaveat } from '../words/makeCaveat';
import { sharedMarks } from './captureWarnings';

/** More captures than this share one caveat. */
const MOST_ALONE = 3;

/**
 * Say which of the captures that some curves come from are bad or doubtful.
 *
 * @param curves what a finding is read from. @returns a caveat for each such capture, however many curves come from it: a
 * warning where it is bad and the curve is the only one, else a doubt; more than three share one, which counts them.
 *
 * @example
 * captureCaveats([makeCurve({ frequencyHz: [20], levelDb: [80] })]) // []
 */
export function captureCaveats(curves: readonly Curve[]): Caveat[] {
  const marks = sharedMarks(curves).captures ?? [];
  // one bad run of several spoils some numbers of what they give together; alone it spoils all
  const severityOf = (verdict: string) => (verdict === 'bad' && curves.length === 1 ? 'warning' : 'doubt');
  if (marks.length <= MOST_ALONE) {
    return marks.map(({ capture, label, verdict }) =>
      makeCaveat('capture-not-good', severityOf(verdict), { label, verdict, recording: capture }, { curve: capture }),
    );
  }
  const bad = marks.filter(({ verdict }) => verdict === 'bad').length;
  return [makeCaveat('captures-not-good', 'doubt', { bad, doubtful: marks.length - bad })];
}
