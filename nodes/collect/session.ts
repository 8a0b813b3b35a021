import { isCalibratorName } from '../../lib/import/isCalibratorName';
import { isNoiseName } from '../../lib/import/isNoiseName';
import type { Caveat } from '../../lib/model/caveat';
import type { Measurement } from '../../lib/model/curve';
import type { CaptureQuality } from '../../lib/model/findings';
import { captureOf } from '../../lib/response/captureWarnings';

/** One measurement held, with what was noted when it was read and how good its capture was. */
export interface Held {
  /** Null for what belongs to every unit: noise runs, corrections, stimuli and calibrators of no unit in particular. */
  unit: string | null;
  measurement: Measurement;
  notes: Caveat[];
  quality: CaptureQuality[];
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
  if (['noise', 'correction', 'stimulus'].includes(measurement.role)) return null;
  const { kind, label } = measurement;
  if (kind === 'recording' && (isNoiseName(label) || isCalibratorName(label))) return null;
  return typeof topic === 'string' && topic !== '' ? topic : 'unnamed';
}

/** The capture that a measurement is or comes from, by its id. */
export function captureIn(measurement: Measurement): string | undefined {
  if (measurement.kind === 'recording' && measurement.role === 'capture') return measurement.id;
  return captureOf(measurement);
}

/**
 * Put measurements to those held: a later one of the same name, or of the same run, takes the place of the earlier, and
 * with that goes all else that came from the earlier one's capture.
 */
export function hold(store: Store, arrived: Held[]): Store {
  const held = arrived.reduce(put, store.held);
  const units = new Set([...store.waiting, ...arrived.flatMap((one) => one.unit ?? unitsOf({ ...store, held }))]);
  return { held, waiting: [...units] };
}

function put(list: Held[], now: Held): Held[] {
  const replaced = list.filter((old) => replaces(now, old));
  const capture = captureIn(now.measurement);
  const captures = new Set(replaced.map(({ measurement }) => captureIn(measurement)));
  const isGone = (old: Held) => {
    const its = captureIn(old.measurement);
    return old.unit === now.unit && its !== undefined && its !== capture && captures.has(its);
  };
  return [...list.filter((old) => !replaced.includes(old) && !isGone(old)), now];
}

/** The units held, in order of their names. */
export function unitsOf(store: Store): string[] {
  return [...new Set(store.held.flatMap((one) => one.unit ?? []))].sort(byName);
}

/** All that belongs to a unit, always in the same order: role, setting, drive, position, order, label. */
export function sessionOf(store: Store, unit: string): Held[] {
  return store.held
    .filter((one) => one.unit === unit || one.unit === null)
    .sort((a, b) => inOrder(a.measurement, b.measurement));
}

/** What was noted of a session: of all of it first, in the order of the codes, then of each measurement in turn, the same thing once. */
export function notesOf(session: Held[]): Caveat[] {
  const labels = new Set(session.map(({ measurement }) => measurement.label));
  const keyed = session.flatMap(({ notes }) => notes).map((note) => [JSON.stringify(note), note] as const);
  const all = [...new Map(keyed).values()];
  const isOfOne = ({ where }: Caveat) => where?.file !== undefined && labels.has(where.file);
  const keyOf = ({ code, where, values }: Caveat) => JSON.stringify([code, where, values]);
  return [...all.filter((note) => !isOfOne(note)).sort((a, b) => byName(keyOf(a), keyOf(b))), ...all.filter(isOfOne)];
}

/** How good the captures of a session were, each capture once. */
export function qualityOf(session: Held[]): CaptureQuality[] {
  // what an earlier version kept may have none
  const all = session.flatMap(({ quality = [] }) => quality);
  return [...new Map(all.map((one) => [JSON.stringify([one.recording, one.label]), one])).values()];
}

function replaces(now: Held, old: Held): boolean {
  const a = now.measurement;
  const b = old.measurement;
  if (now.unit !== old.unit || a.kind !== b.kind || a.role !== b.role || orderOf(a) !== orderOf(b)) return false;
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
    orderOf(a) - orderOf(b) ||
    byName(a.label, b.label) ||
    byName(a.id, b.id)
  );
}

/** Curves first. */
const ROLES: Measurement['role'][] = [
  ...(['response', 'noise', 'correction', 'harmonic'] as const),
  ...(['capture', 'impulse', 'stimulus', 'programme'] as const),
];

function rank({ role }: Measurement): number {
  return ROLES.indexOf(role);
}

/** Which harmonic a measurement is of: 1 of all that are none. */
function orderOf(measurement: Measurement): number {
  return (measurement.kind === 'curve' && measurement.order) || 1;
}

/** Never by the machine's language: the same files give the same order everywhere. */
function byName(a: string, b: string): number {
  return a.localeCompare(b, 'en', { numeric: true }) || (a < b ? -1 : Number(a > b));
}
