import type { Curve } from '../model/curve';
import { sharedMarks } from './captureWarnings';

/**
 * Say which of the captures that some curves come from are bad or doubtful.
 *
 * @param curves what a finding rests on. @returns one sentence for each such capture, however many curves come from it;
 * it says what the first
 * warning says, without what to do about it, and points to the capture quality for that and for the others.
 *
 * @example
 * captureCaveats([makeCurve({ frequencyHz: [20], levelDb: [80] })]) // []
 */
export function captureCaveats(curves: readonly Curve[]): string[] {
  return (sharedMarks(curves).captures ?? []).map(({ label, verdict, warnings }) => {
    const others = warnings.length - 1;
    const more = others > 0 ? ` (and ${others} more ${others > 1 ? 'warnings' : 'warning'})` : '';
    const first = warnings.length > 0 ? `: ${firstClause(warnings[0])}${more}` : '';
    return `${label}: this capture is ${verdict}${first}; see capture quality.`;
  });
}

/** What comes before the first full stop or semicolon that ends a clause; the points of numbers end none. */
function firstClause(text: string): string {
  return text.split(/[.;](?:\s|$)/)[0];
}
