import type { Curve } from '../model/curve';
import { sharedMarks } from './captureWarnings';

/**
 * Say which of the captures that some curves come from are bad or doubtful.
 *
 * @param curves what a finding rests on. @returns one sentence for each such capture, however many curves come from it;
 * it gives the first warning and points to the capture quality for the others.
 *
 * @example
 * captureCaveats([makeCurve({ frequencyHz: [20], levelDb: [80] })]) // []
 */
export function captureCaveats(curves: readonly Curve[]): string[] {
  return (sharedMarks(curves).captures ?? []).map(({ label, verdict, warnings }) => {
    const others = warnings.length - 1;
    const more = others > 0 ? ` (and ${others} more ${others > 1 ? 'warnings' : 'warning'})` : '';
    const first = warnings.length > 0 ? `: ${warnings[0].replace(/\.$/, '')}${more}` : '';
    return `${label}: this capture is ${verdict}${first}; see capture quality.`;
  });
}
