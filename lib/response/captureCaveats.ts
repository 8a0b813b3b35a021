import type { Curve } from '../model/curve';
import { type CaptureMark, sharedMarks } from './captureWarnings';

/** More captures than this share one sentence, and so many of a kind are named in it. */
const MOST_ALONE = 3;

/**
 * Say which of the captures that some curves come from are bad or doubtful.
 *
 * @param curves what a finding rests on. @returns one sentence for each such capture, however many curves come from it:
 * what its first warning says, without what to do about it, and where to read on. More than three share one sentence, which names three of a kind and counts the others.
 *
 * @example
 * captureCaveats([makeCurve({ frequencyHz: [20], levelDb: [80] })]) // []
 */
export function captureCaveats(curves: readonly Curve[]): string[] {
  const marks = sharedMarks(curves).captures ?? [];
  if (marks.length <= MOST_ALONE) return marks.map(sentence);
  const named = (wanted: CaptureMark['verdict']) =>
    marks.filter(({ verdict }) => verdict === wanted).map(({ label }) => label);
  const parts = (['bad', 'doubtful'] as const).flatMap((verdict) => {
    const labels = named(verdict);
    const rest = labels.length - MOST_ALONE;
    const more = rest > 0 ? ` and ${rest} more` : '';
    return labels.length > 0 ? [`${verdict}: ${labels.slice(0, MOST_ALONE).join(', ')}${more}`] : [];
  });
  return [`${marks.length} of the captures are not good (${parts.join('; ')}); see capture quality.`];
}

function sentence({ label, verdict, warnings }: CaptureMark): string {
  const others = warnings.length - 1;
  const more = others > 0 ? ` (and ${others} more ${others > 1 ? 'warnings' : 'warning'})` : '';
  const first = warnings.length > 0 ? `: ${firstClause(warnings[0])}${more}` : '';
  return `${label}: this capture is ${verdict}${first}; see capture quality.`;
}

/** What comes before the first full stop or semicolon that ends a clause; the points of numbers end none. */
function firstClause(text: string): string {
  return text.split(/[.;](?:\s|$)/)[0];
}
