import type { Curve, Measurement } from '../../lib/model/curve';

/** One measurement held, with what was noted when it was read. */
export interface Held {
  /** Null for what belongs to every unit: noise runs and corrections of no unit in particular. */
  unit: string | null;
  measurement: Measurement;
  notes: string[];
}

/** What a collecting node keeps between messages: plain data, so that any context store can hold it. */
export interface Store {
  held: Held[];
  /** Units that something has arrived for since they were last passed on. */
  waiting: string[];
}

/** Which unit a measurement belongs to; null for all. */
export function unitOf(measurement: Measurement, topic: unknown): string | null {
  if (measurement.about.device) return measurement.about.device;
  if (measurement.kind === 'curve' && measurement.role !== 'response') return null;
  return typeof topic === 'string' && topic !== '' ? topic : 'unnamed';
}

/** Put measurements to those held: a later one of the same name, or of the same run, takes the place of the earlier. */
export function hold(store: Store, arrived: Held[]): Store {
  const held = arrived.reduce((list, one) => [...list.filter((old) => !replaces(one, old)), one], store.held);
  const units = new Set([...store.waiting, ...arrived.flatMap((one) => one.unit ?? unitsOf({ ...store, held }))]);
  return { held, waiting: [...units] };
}

/** The units held, in order of their names. */
export function unitsOf(store: Store): string[] {
  return [...new Set(store.held.flatMap((one) => one.unit ?? []))].sort(byName);
}

/** All that belongs to a unit, always in the same order: role, setting, drive, position, label. */
export function sessionOf(store: Store, unit: string): Held[] {
  return store.held
    .filter((one) => one.unit === unit || one.unit === null)
    .sort((a, b) => inOrder(a.measurement, b.measurement));
}

/** What was noted of a session: of all of it first, then of each measurement in turn, the same thing once. */
export function notesOf(session: Held[]): string[] {
  const labels = session.map(({ measurement }) => `${measurement.label}: `);
  const all = [...new Set(session.flatMap(({ notes }) => notes))];
  const isOfOne = (note: string) => labels.some((label) => note.startsWith(label));
  return [...all.filter((note) => !isOfOne(note)).sort(byName), ...all.filter(isOfOne)];
}

function replaces(now: Held, old: Held): boolean {
  const a = now.measurement;
  const b = old.measurement;
  if (now.unit !== old.unit || a.kind !== b.kind || a.role !== b.role) return false;
  if (a.label === b.label) return true;
  const sameRun =
    a.about.setting === b.about.setting && a.about.driveDb === b.about.driveDb && a.about.position === b.about.position;
  return sameRun && (a.about.driveDb !== undefined || a.id === b.id);
}

function inOrder(a: Measurement, b: Measurement): number {
  return (
    rank(a) - rank(b) ||
    byName(a.about.setting ?? '', b.about.setting ?? '') ||
    (a.about.driveDb ?? 0) - (b.about.driveDb ?? 0) ||
    byName(a.about.position ?? '', b.about.position ?? '') ||
    byName(a.label, b.label) ||
    byName(a.id, b.id)
  );
}

function rank(measurement: Measurement): number {
  const roles: Curve['role'][] = ['response', 'noise', 'correction', 'harmonic'];
  return measurement.kind === 'curve' ? roles.indexOf(measurement.role) : roles.length;
}

/** Never by the machine's language: the same files give the same order everywhere. */
function byName(a: string, b: string): number {
  return a.localeCompare(b, 'en', { numeric: true }) || (a < b ? -1 : Number(a > b));
}
