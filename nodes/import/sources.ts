import { basename, dirname } from 'node:path';
import { BassloomError } from '../../lib/model/errors';
import type { Message, RedApi } from '../nodeRed';
import { fullPath, pathToRead } from '../paths';
import { findFiles, namePattern } from './findFiles';
import { type Limits, readWithin } from './readWithin';

export interface Source {
  name?: string;
  read(): Promise<string | Uint8Array>;
}

/**
 * Say what there is to read: the message's payload, or files.
 *
 * @throws BassloomError `bad-setting`, `not-text`, `no-such-file`, `no-files`.
 */
export async function sourcesOf(
  RED: RedApi,
  settings: Limits & { source: string; files?: string; leaveOut?: string },
  message: Message,
): Promise<Source[]> {
  if (settings.source === 'files') {
    if (!settings.files) {
      throw new BassloomError('bad-setting', 'Setting "files" is empty, and so is msg.files.', { field: 'files' });
    }
    const named = pathToRead(RED, settings.files);
    const found = await filesIn(RED, named, settings.leaveOut);
    const lot = { leftMb: settings.mostSoundMb };
    return found.map((path) => ({
      name: path,
      read: () => readWithin(path, settings, { within: path === named ? undefined : dirname(path), lot }),
    }));
  }
  const { payload, filename } = message;
  if (typeof payload !== 'string' && !(payload instanceof Uint8Array)) {
    const what = 'msg.payload is neither text nor a Buffer; read a file first, or read from files.';
    throw new BassloomError('not-text', what, { field: 'payload' });
  }
  return [{ name: typeof filename === 'string' ? filename : undefined, read: async () => payload }];
}

/** The files that a path stands for, but for those to pass over. @throws BassloomError as `findFiles` does. */
export async function filesIn(RED: RedApi, path: string, leaveOut: string | undefined): Promise<string[]> {
  const isOut = leftOut(RED, leaveOut);
  return (await findFiles(path)).filter((one) => !isOut(one));
}

/** Files to pass over, several with semicolons between: paths, or names in which `*` and `?` stand for letters. */
export function leftOut(RED: RedApi, leaveOut: string | undefined): (path: string) => boolean {
  const parts = (leaveOut ?? '').split(';').map((part) => part.trim());
  const tests = parts
    .filter((part) => part !== '')
    .map((part) => {
      if (/[/\\]/.test(part)) return (path: string) => path === fullPath(RED, part);
      const pattern = namePattern(part);
      return (path: string) => pattern.test(basename(path));
    });
  return (path) => tests.some((isOut) => isOut(path));
}
