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

/** '−12 dB', '−12 to −9 dB' */
export function onsetRange({ fromDriveDb, toDriveDb }: Region, say: Format): string {
  if (fromDriveDb === toDriveDb) return say.drive(fromDriveDb);
  const sign = fromDriveDb > 0 ? '+' : '';
  return `${sign}${say.short(fromDriveDb)} to ${say.drive(toDriveDb)}`;
}

/** ', past a dip at 36 Hz': dips that fall as low but end nothing. */
export function pastDips(values: Listed, say: Format): string {
  const dips = numbered<number>(values, 'dipHz').map((hz) => say.hertz(hz));
  if (dips.length === 0) return '';
  return `, past ${dips.length === 1 ? 'a dip' : 'dips'} at ${say.list(dips)}\u00a0Hz`;
}
