import type { Caveat } from '../../lib/model/caveat';
import type { Measurement } from '../../lib/model/curve';
import type { CaptureQuality, Findings } from '../../lib/model/findings';
import { captureIn, type Held, unitOf } from './session';

/**
 * What came in one message, each measurement with what was found of it alone: a note goes with the measurement that
 * was read from its file, a capture's quality with all that comes from the capture; what belongs to none goes with all.
 */
export function arrivals(measurements: Measurement[], topic: unknown, findings: Findings): Held[] {
  const { notes = [], captureQuality = [] } = findings;
  const ownerOf = (note: Caveat) => measurements.findIndex(({ label }) => note.where?.file === label);
  const owned = notes.map((note) => ({ note, owner: ownerOf(note) }));
  const captures = measurements.map(captureIn);
  const isOf = ({ recording }: CaptureQuality, i: number) => captures[i] === recording || !captures.includes(recording);
  return measurements.map((measurement, i) => ({
    unit: unitOf(measurement, topic),
    measurement,
    notes: owned.filter(({ owner }) => owner === i || owner < 0).map(({ note }) => note),
    quality: captureQuality.filter((one) => isOf(one, i)),
  }));
}
