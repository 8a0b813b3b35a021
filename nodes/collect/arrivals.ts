import type { Measurement } from '../../lib/model/curve';
import type { CaptureQuality, Findings } from '../../lib/model/findings';
import type { Source } from '../import/watching';
import { captureIn, type Held, unitOf } from './session';

/**
 * What came in one message, each measurement with what was found of it alone: a note goes with the measurement that
 * was read from its file, a capture's quality with all that comes from the capture; what belongs to none goes with all.
 *
 * @param sources which files they were read from, where the *import* node said so.
 */
export function arrivals(measurements: Measurement[], topic: unknown, findings: Findings, sources: unknown): Held[] {
  const { notes = [], captureQuality = [] } = findings;
  const owners = new Map(measurements.map(({ label }, i) => [label, i] as const).reverse());
  const owned = notes.map((note) => ({ note, owner: owners.get(note.where?.file ?? '') ?? -1 }));
  const captures = measurements.map(captureIn);
  const isOf = ({ recording }: CaptureQuality, i: number) => captures[i] === recording || !captures.includes(recording);
  const sourceOf = sourcesIn(sources);
  return measurements.map((measurement, i) => {
    const source = sourceOf(measurement, captures[i]);
    return {
      unit: unitOf(measurement, topic),
      measurement,
      notes: owned.filter(({ owner }) => owner === i || owner < 0).map(({ note }) => note),
      quality: captureQuality.filter((one) => isOf(one, i)),
      ...(source && { file: source.file, mtimeMs: source.mtimeMs }),
    };
  });
}

/**
 * By label, which stays the same when numbers are corrected; what was made of a capture is known by the capture, of
 * several of the same bytes by the one that it is called after.
 */
function sourcesIn(sources: unknown): (measurement: Measurement, capture?: string) => Source | undefined {
  const list = Array.isArray(sources) ? (sources as Source[]) : [];
  const byLabel = new Map(list.map((one) => [one.label, one]));
  return ({ label }, capture) => {
    const ofCapture = () => list.filter(({ id }) => id === capture);
    return byLabel.get(label) ?? ofCapture().find((one) => label.startsWith(one.label)) ?? ofCapture()[0];
  };
}
