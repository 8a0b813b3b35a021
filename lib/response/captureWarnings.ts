import type { Caveat } from '../model/caveat';
import type { Curve } from '../model/curve';

/** Name of the step that every curve out of a captured sweep carries. */
const DECONVOLVE_STEP = 'deconvolve';

/** A capture that is bad or doubtful, as the curves that rest on it name it. */
export interface CaptureMark {
  /** Id of the recording. */
  capture: string;
  label: string;
  verdict: 'doubtful' | 'bad';
  /** What is wrong and what to do, one sentence each. */
  warnings: Caveat[];
}

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
  return curve.steps.flatMap((step) => {
    if (step.did !== DECONVOLVE_STEP) return (step.with.captures ?? []) as CaptureMark[];
    const { capture, verdict, warnings } = step.with as Partial<CaptureMark>;
    if (verdict !== 'bad' && verdict !== 'doubtful') return [];
    return [{ capture: String(capture), label: curve.label, verdict, warnings: warnings ?? [] }];
  });
}

/** The same of several curves, each capture once, as a step that joins them keeps it: nothing where all are good. */
export function sharedMarks(curves: readonly Curve[]): { captures?: CaptureMark[] } {
  const byId = new Map<string, CaptureMark>();
  for (const mark of curves.flatMap(captureMarks)) if (!byId.has(mark.capture)) byId.set(mark.capture, mark);
  return byId.size > 0 ? { captures: [...byId.values()] } : {};
}

/** Id of the capture that a curve or impulse response was read from; undefined where it comes from none, or from several. */
export function captureOf(measurement: Pick<Curve, 'steps'>): string | undefined {
  const capture = measurement.steps.find(({ did }) => did === DECONVOLVE_STEP)?.with.capture;
  return typeof capture === 'string' ? capture : undefined;
}
