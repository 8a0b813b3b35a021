import { constants, type Stats } from 'node:fs';
import { type FileHandle, lstat, open, realpath, stat } from 'node:fs/promises';
import { basename, sep } from 'node:path';
import { BassloomError } from '../../lib/model/errors';

/**
 * Open a file for reading, but nothing that is no file: what only looks like one (a pipe, a device, a socket) may never
 * end, and a link out of a folder that is read may lead anywhere.
 *
 * @param within folder that links must not lead out of; none where the user named the file itself.
 * @throws BassloomError `not-a-regular-file`, and what the system says of a file.
 */
export async function openRegular(path: string, within?: string): Promise<FileHandle> {
  const what = await whatElse(path, within);
  if (what) throw notRegular(path, what);
  // without waiting: a pipe may have taken its place since
  const file = await open(path, constants.O_RDONLY | constants.O_NONBLOCK);
  try {
    const kind = kindOf(await file.stat());
    if (kind) throw notRegular(path, kind);
    return file;
  } catch (problem) {
    await file.close();
    throw problem;
  }
}

/** What something in a folder is, if it is no regular file, nor a link to one in that folder. */
export async function whatElse(path: string, within?: string): Promise<string | undefined> {
  const own = await lstat(path);
  if (!own.isSymbolicLink()) return kindOf(own);
  const target = await realpath(path).catch(() => undefined);
  if (target === undefined) return 'a link to nothing';
  if (within !== undefined && !target.startsWith((await realpath(within)) + sep)) {
    return 'a link that leads out of its folder';
  }
  return kindOf(await stat(path));
}

function kindOf(stats: Stats): string | undefined {
  if (stats.isFile()) return undefined;
  if (stats.isDirectory()) return 'a folder';
  if (stats.isFIFO()) return 'a pipe';
  if (stats.isSocket()) return 'a socket';
  return 'a device';
}

export function notRegular(path: string, what: string): BassloomError {
  const text = `${basename(path)} is ${what}; it was not opened. Put the measurement itself there.`;
  return new BassloomError('not-a-regular-file', text, { field: 'files' });
}
