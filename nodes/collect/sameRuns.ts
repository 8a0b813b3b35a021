import type { Caveat } from '../../lib/model/caveat';
import { makeCaveat } from '../../lib/words/makeCaveat';
import { byName } from '../byName';
import { captureIn, type Held, orderOf } from './session';

/**
 * Use of several files of one run the latest, and say so with both names: the one written last, of equally old ones the
 * last by name, and where no files are known the one that came last. A run is unit, setting, drive and position; where
 * the drive is not known, the same numbers are the same run.
 *
 * @param held in the order in which it came.
 * @returns what is used; with a response that is not goes all else that came from its capture.
 */
export function sortOutSameRuns(held: Held[]): { used: Held[]; notes: Caveat[] } {
  const latest = new Map<string, Held>();
  for (const one of held) {
    const other = latest.get(runOf(one));
    if (!other || isLater(one, other)) latest.set(runOf(one), one);
  }
  // a copy whose name says no drive is the run that it was copied from
  const driven = new Map(held.filter(hasDrive).map((one) => [numbersOf(one), one]));
  const usedFor = (one: Held): Held =>
    (hasDrive(one) ? undefined : driven.get(numbersOf(one))) ?? (latest.get(runOf(one)) as Held);
  const others = new Set(held.filter((one) => usedFor(one) !== one));
  if (others.size === 0) return { used: held, notes: [] };
  const capturesOf = (list: Held[]) =>
    new Set(list.flatMap(({ measurement }) => (measurement.role === 'response' ? (captureIn(measurement) ?? []) : [])));
  const kept = capturesOf(held.filter((one) => !others.has(one)));
  const left = capturesOf([...others]);
  const isLeft = (one: Held): boolean => {
    const capture = captureIn(one.measurement);
    return others.has(one) || (capture !== undefined && left.has(capture) && !kept.has(capture));
  };
  const notes = [...others].filter(({ measurement }) => orderOf(measurement) === 1 && measurement.role !== 'impulse');
  return { used: held.filter((one) => !isLeft(one)), notes: notes.map((other) => tell(usedFor(other), other)) };
}

function tell(used: Held, other: Held): Caveat {
  const same = used.measurement.id === other.measurement.id;
  const { label, about } = used.measurement;
  return makeCaveat(
    'same-run-twice',
    same ? 'remark' : 'doubt',
    { used: nameOf(used), other: nameOf(other), same },
    { file: label, ...(about.driveDb !== undefined && { driveDb: [about.driveDb] }) },
  );
}

function nameOf({ file, measurement }: Held): string {
  return file ?? measurement.label;
}

function hasDrive({ measurement }: Held): boolean {
  return measurement.about.driveDb !== undefined;
}

function runOf(one: Held): string {
  const { kind, role, about } = one.measurement;
  if (!hasDrive(one)) return numbersOf(one);
  const { setting, driveDb, position } = about;
  return JSON.stringify([one.unit, kind, role, orderOf(one.measurement), setting, driveDb, position]);
}

function numbersOf({ unit, measurement }: Held): string {
  const { kind, role, id, about } = measurement;
  return JSON.stringify([unit, kind, role, orderOf(measurement), id, about.setting, about.position]);
}

/** `one` stands behind `other` in the order in which they came. */
function isLater(one: Held, other: Held): boolean {
  const apart = (one.mtimeMs ?? 0) - (other.mtimeMs ?? 0);
  if (apart !== 0) return apart > 0;
  return one.file === undefined || other.file === undefined || byName(one.file, other.file) > 0;
}
