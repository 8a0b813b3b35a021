import type { Format } from '../format';
import { type Listed, numbered } from '../numbered';

/** ' with ‘deep’'; nothing where the setting has no name. */
export function withName(name: string | undefined): string {
  return name ? ` with ‘${name}’` : '';
}

/** '‘deep’', at the start of a sentence on its response. */
export function who(name: string): string {
  return name ? `‘${name}’` : 'The response';
}

/** Behind a level: 'dB', or 'relative dB' where it is not re 20 µPa. */
export function levelUnit(relative: boolean): string {
  return relative ? 'relative dB' : 'dB';
}

/** Where levels of bursts hold: brought to `toM` from `fromM`, m (null: from several distances), or at the microphone. */
export interface BurstPlace {
  fromM: number | null;
  toM: number | null;
}

/** 'converted from 2 to 1 m', 'at the microphone' */
export function burstPlace({ fromM, toM }: BurstPlace, say: Format): string {
  if (toM === null) return 'at the microphone';
  return `converted ${fromM === null ? '' : `from ${say.short(fromM, 2)} `}to ${say.short(toM)}\u00a0m`;
}

/** '5.1 dB louder than' */
export function louder(byDb: number, say: Format): string {
  return byDb === 0 ? 'as loud as' : `${say.db(Math.abs(byDb))} ${byDb < 0 ? 'quieter' : 'louder'} than`;
}

interface Region {
  lowHz: number;
  highHz: number;
  /** Drive at which its first band begins to limit, and its last. */
  fromDriveDb: number;
  toDriveDb: number;
}

/** The regions of a ladder in flat values. */
export function regionsIn(values: Listed): Region[] {
  const [high, from, to] = ['highHz', 'fromDriveDb', 'toDriveDb'].map((name) => numbered<number>(values, name));
  return numbered<number>(values, 'lowHz').map((lowHz, k) => ({
    lowHz,
    highHz: high[k],
    fromDriveDb: from[k],
    toDriveDb: to[k],
  }));
}

/** Onsets closer than this are told as one, dB: runs are at least 1 dB apart. */
const TOGETHER_DB = 0.25;

/** '−12 dB', or '−12 to −9 dB' where the bands of a range do not start together. */
export function driveRange(fromDb: number, toDb: number, say: Format): string {
  if (!(toDb - fromDb >= TOGETHER_DB)) return say.drive(fromDb);
  return `${fromDb > 0 ? '+' : ''}${say.short(fromDb)} to ${say.drive(toDb)}`;
}

/** ', past a dip at 36 Hz': dips that fall as low but end nothing. */
export function pastDips(values: Listed, say: Format): string {
  const dips = numbered<number>(values, 'dipHz').map((hz) => say.hertz(hz));
  if (dips.length === 0) return '';
  return `, past ${dips.length === 1 ? 'a dip' : 'dips'} at ${say.list(dips)}\u00a0Hz`;
}
