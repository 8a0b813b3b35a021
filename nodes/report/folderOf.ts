import { join } from 'node:path';
import { BassloomError } from '../../lib/model/errors';
import type { RedApi } from '../nodeRed';
import { fullPath } from '../paths';
import { safeName } from './safeName';

/** The folder of a unit's report; null where none is to be written. @throws BassloomError `bad-setting`. */
export function folderOf(RED: RedApi, settings: { write: boolean; folder?: string }, unit: string): string | null {
  if (!settings.write) return null;
  if (settings.folder) return join(fullPath(RED, settings.folder), safeName(unit));
  throw new BassloomError('bad-setting', 'Setting "folder" is empty, and so is msg.folder.', { field: 'folder' });
}
