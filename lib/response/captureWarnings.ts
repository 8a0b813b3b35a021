import type { Caveat } from '../model/caveat';
import type { Curve } from '../model/curve';
import { type CaptureMark, stepsOf } from '../model/step';

/**
 * List what is wrong with the captures that a curve comes from.
 *
 * @param curve any curve. @returns the warnings of its bad and doubtful captures, one sentence each; none of a curve that
 * comes from no capture, or from good ones.
 *
 * @example
 * captureWarnings(makeCurve({ frequencyHz: [20], levelDb: [80] })) // []
 */
export function captureWarnings(curve: Curve): Caveat[] {
  return (sharedMarks([curve]).captures ?? []).flatMap(({ warnings }) => warnings);
}

/**
 * Name the bad and doubtful captures that a curve comes from: its own, those of the runs it was averaged from, those of
 * its noise runs. Steps that join curves keep them as `captures`.
 */
function captureMarks(curve: Curve): CaptureMark[] {
  const own = stepsOf(curve, 'deconvolve').flatMap(({ with: { capture, verdict, warnings } }) =>
    verdict === 'bad' || verdict === 'doubtful'
      ? [{ capture, label: curve.label, verdict, warnings: warnings ?? [] }]
      : [],
  );
  const joined = [...stepsOf(curve, 'average'), ...stepsOf(curve, 'attach noise')];
  return [...own, ...joined.flatMap((step) => step.with.captures ?? [])];
}

/** The same of several curves, each capture once, as a step that joins them keeps it: nothing where all are good. */
export function sharedMarks(curves: readonly Curve[]): { captures?: CaptureMark[] } {
  const byId = new Map<string, CaptureMark>();
  for (const mark of curves.flatMap(captureMarks)) if (!byId.has(mark.capture)) byId.set(mark.capture, mark);
  return byId.size > 0 ? { captures: [...byId.values()] } : {};
}

/** Id of the capture that a curve or impulse response was read from; undefined where it comes from none, or from several. */
export function captureOf(measurement: Pick<Curve, 'steps'>): string | undefined {
  return stepsOf(measurement, 'deconvolve')[0]?.with.capture;
}
