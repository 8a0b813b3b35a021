import { isCalibratorName } from '../../lib/import/isCalibratorName';
import { isNoiseName } from '../../lib/import/isNoiseName';
import type { Caveat, Refused } from '../../lib/model/caveat';
import type { Measurement } from '../../lib/model/curve';
import type { CaptureQuality } from '../../lib/model/findings';
import { captureOf } from '../../lib/response/captureWarnings';
import { makeCaveat } from '../../lib/words/makeCaveat';
import { byName } from '../byName';

/** One measurement held, with what was noted when it was read and how good its capture was. */
export interface Held {
  /** Null for what belongs to every unit: noise runs, corrections, stimuli and calibrators of no unit in particular. */
  unit: string | null;
  measurement: Measurement;
  notes: Caveat[];
  quality: CaptureQuality[];
  /** The file it was read from, and when that was written. */
  file?: string;
  mtimeMs?: number;
}

/** A file that could not be read; of no known unit it is of no session. */
export interface RefusedFile {
  unit: string;
  file: string;
  because: Refused;
}

/** What a collecting node keeps between messages: plain data, so that any context store can hold it. */
export interface Store {
  held: Held[];
  /** Units that something has arrived for since they were last passed on. */
  waiting: string[];
  refused?: RefusedFile[];
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
 * Put measurements to those held: what was read of a file before goes when the file is read anew; without files, a later
 * one of the same name takes the place of the earlier, and with that goes all else that came from the earlier's capture.
 */
export function hold(store: Store, arrived: Held[]): Store {
  const files = new Set(arrived.flatMap(({ file }) => file ?? []));
  const now = new Map(arrived.map((one) => [nameIn(one), one]));
  const isReplaced = (old: Held) => (old.file === undefined ? now.has(nameIn(old)) : files.has(old.file));
  const captures = new Set(arrived.map(({ measurement }) => captureIn(measurement)));
  const goneCaptures = new Set(
    store.held.filter(isReplaced).flatMap(({ unit, measurement }) => {
      const capture = captureIn(measurement);
      return capture === undefined || captures.has(capture) ? [] : [`${unit} ${capture}`];
    }),
  );
  const isGone = ({ unit, measurement }: Held) => goneCaptures.has(`${unit} ${captureIn(measurement)}`);
  const held = [...store.held.filter((old) => !isReplaced(old) && !isGone(old)), ...now.values()];
  const refused = store.refused?.filter(({ file }) => !files.has(file));
  return waitFor({ ...store, held, refused }, arrived);
}

/** Let go of what was read of files that are gone, and of what was said of those that were refused. */
export function letGo(store: Store, files: string[]): Store {
  const gone = new Set(files);
  const isGone = ({ file }: { file?: string }) => file !== undefined && gone.has(file);
  const after = { ...store, held: store.held.filter((one) => !isGone(one)) };
  const refused = store.refused?.filter((one) => !isGone(one));
  const units = [...store.held.filter(isGone), ...(store.refused ?? []).filter(isGone)];
  return waitFor({ ...after, refused }, units);
}

/** Remember which files of a unit were refused, and why. */
export function refuse(store: Store, refused: RefusedFile[]): Store {
  const files = refused.map(({ file }) => file);
  const before = letGo(store, files);
  return waitFor({ ...before, refused: [...(before.refused ?? []), ...refused] }, refused);
}

/** Units that something has changed for are waiting; what belongs to all has all of them wait. */
function waitFor(store: Store, changed: { unit: string | null; measurement?: Measurement }[]): Store {
  const known = knownIn(store);
  const isForAll = (one: (typeof changed)[number]) => one.unit === null || isLoneNoise(one, known);
  const own = changed.filter((one) => !isForAll(one)).map(({ unit }) => unit as string);
  const units = own.length < changed.length ? [...known, ...own] : own;
  return { ...store, waiting: [...new Set([...store.waiting, ...units])] };
}

function nameIn({ unit, measurement, file = '' }: Held): string {
  const { kind, role, label } = measurement;
  return JSON.stringify([unit, kind, role, orderOf(measurement), label, file]);
}

/** The units held that something was measured of besides noise, in order of their names. */
export function unitsOf(store: Store): string[] {
  return [...knownIn(store)].sort(byName);
}

function knownIn({ held }: Store): Set<string> {
  return new Set(held.flatMap(({ unit, measurement }) => (measurement.role === 'noise' ? [] : (unit ?? []))));
}

/** All that belongs to a unit, in the order in which it came. A noise run speaks for its unit; named otherwise, for all. */
export function heldOf(store: Store, unit: string): Held[] {
  const known = knownIn(store);
  return store.held.flatMap((one) => {
    if (one.unit === unit || one.unit === null) return [one];
    return isLoneNoise(one, known) ? [ofAll(one)] : [];
  });
}

/** Whether it is noise of what is no unit ('room_noise'). */
function isLoneNoise(
  { unit, measurement }: { unit: string | null; measurement?: Measurement },
  known: Set<string>,
): boolean {
  return measurement?.role === 'noise' && unit !== null && !known.has(unit);
}

function ofAll(one: Held): Held {
  const { device, ...about } = one.measurement.about;
  return { ...one, unit: null, measurement: { ...one.measurement, about } };
}

/** Always the same order: role, setting, drive, position, order, label. */
export function inFixedOrder(session: Held[]): Held[] {
  return [...session].sort((a, b) => inOrder(a.measurement, b.measurement));
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

/** So many refused files are named one by one. */
const NAMED = 20;

/** What a report says of the files of its unit that could not be read. */
export function refusedNotes({ refused = [] }: Store, unit: string): Caveat[] {
  const own = refused.filter((one) => one.unit === unit).sort((a, b) => byName(a.file, b.file));
  const notes = own
    .slice(0, NAMED)
    .map(({ file, because }) => makeCaveat('file-refused', 'remark', {}, { file }, because));
  const more = own.length - notes.length;
  return more > 0 ? [...notes, makeCaveat('files-refused', 'remark', { count: more })] : notes;
}

/** How good the captures of a session were, each capture once. */
export function qualityOf(session: Held[]): CaptureQuality[] {
  // what an earlier version kept may have none
  const all = session.flatMap(({ quality = [] }) => quality);
  return [...new Map(all.map((one) => [JSON.stringify([one.recording, one.label]), one])).values()];
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
export function orderOf(measurement: Measurement): number {
  return (measurement.kind === 'curve' && measurement.order) || 1;
}
