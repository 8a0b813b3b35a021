import { basename } from 'node:path';
import { BassloomError } from '../../lib/model/errors';
import type { Library } from '../define';
import type { Values } from '../fields';
import type { AdminRequest, AdminResponse, RedApi } from '../nodeRed';
import { pathToRead } from '../paths';
import { readSettings } from '../settings';
import { betterPattern } from './betterPattern';
import { fields } from './fields';
import { looksLikeWav } from './looksLikeWav';
import { filesIn } from './sources';
import { isStimulusName, whatNameSays } from './whatIsKnown';

const { files, leaveOut, namePattern, stepDb, role, recordingRole } = fields;
const asked = { files, leaveOut, namePattern, stepDb, role, recordingRole };
type Asked = Values<typeof asked>;

/** More rows help nobody in a dialog. */
const MOST_ROWS = 200;

/** What a file's name is read as, before anything is opened. */
export interface NameRow {
  name: string;
  as: string;
  device?: string;
  setting?: string;
  driveDb?: number;
  position?: string;
  /** Whether its name follows the pattern, or need not. */
  fits: boolean;
  /** What does not fit. */
  why?: string;
}

/** Tell the dialog what the names of its files are read as, and a pattern that fits better where some do not match. */
export function tellNames(RED: RedApi) {
  return async ({ query }: AdminRequest, response: AdminResponse): Promise<void> => {
    const lib = require('../../lib') as Library;
    try {
      const settings = readSettings(RED, asked, query, {});
      if (!settings.files) return response.json({ rows: [], of: 0, fitting: 0 });
      const found = await filesIn(RED, pathToRead(RED, settings.files), settings.leaveOut);
      const rows = found.map((path) => rowOf(lib, path, settings));
      const odd = rows.filter(({ fits }) => !fits).map(({ name }) => name);
      const suggestion = odd.length > 0 ? betterPattern(lib, odd, settings.stepDb) : undefined;
      response.json({
        rows: rows.slice(0, MOST_ROWS),
        of: rows.length,
        fitting: rows.length - odd.length,
        pattern: settings.namePattern,
        ...(suggestion && { suggestion }),
      });
    } catch (problem) {
      const { message, field } = problem as BassloomError;
      response.status(400).json({ message, field: problem instanceof BassloomError ? field : undefined });
    }
  };
}

function rowOf(lib: Library, path: string, settings: Asked): NameRow {
  const name = basename(path);
  const isSound = looksLikeWav('', path);
  const known = settings.role ? {} : whatNameSays(lib, path, isSound);
  const as = isSound ? soundAs(lib, path, settings) : (settings.role ?? known.role ?? 'response');
  const options = { namePattern: settings.namePattern, ...known };
  if (options.namePattern === undefined || as === 'stimulus') return { name, as, fits: true };
  const { matches, about, notes } = lib.readFileName(path, options.namePattern, settings.stepDb);
  const { device, setting, driveDb, position } = about;
  const why = notes.map(({ message }) => message).join(' ');
  return { name, as, device, setting, driveDb, position, fits: matches && notes.length === 0, ...(why && { why }) };
}

function soundAs(lib: Library, path: string, { role, recordingRole }: Asked): string {
  const is = recordingRole ?? (isStimulusName(path) ? 'stimulus' : 'capture');
  if (is !== 'capture') return is;
  if (role === 'noise' || lib.isNoiseName(path)) return 'noise';
  return lib.isCalibratorName(path) ? 'calibrator' : 'capture';
}
