import { readFile } from 'node:fs/promises';
import { basename } from 'node:path';
import { BassloomError } from '../../lib/model/errors';
import type { Message, RedApi } from '../nodeRed';
import { fullPath, pathToRead } from '../paths';
import { checkSize, findFiles, namePattern } from './findFiles';

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
  settings: { source: string; files?: string; leaveOut?: string },
  message: Message,
): Promise<Source[]> {
  if (settings.source === 'files') {
    if (!settings.files) {
      throw new BassloomError('bad-setting', 'Setting "files" is empty, and so is msg.files.', { field: 'files' });
    }
    const found = await findFiles(pathToRead(RED, settings.files));
    const isOut = leftOut(RED, settings.leaveOut);
    const paths = found.filter((path) => !isOut(path));
    return paths.map((name) => ({ name, read: () => checkSize(name).then(() => readFile(name)) }));
  }
  const { payload, filename } = message;
  if (typeof payload !== 'string' && !(payload instanceof Uint8Array)) {
    const what = 'msg.payload is no text and no Buffer; read a file first, or read from files.';
    throw new BassloomError('not-text', what, { field: 'payload' });
  }
  return [{ name: typeof filename === 'string' ? filename : undefined, read: async () => payload }];
}

/** Files to pass over: one path, or all of a name, in which `*` and `?` stand for letters. */
function leftOut(RED: RedApi, leaveOut: string | undefined): (path: string) => boolean {
  if (leaveOut === undefined) return () => false;
  if (/[/\\]/.test(leaveOut)) return (path) => path === fullPath(RED, leaveOut);
  const pattern = namePattern(leaveOut);
  return (path) => pattern.test(basename(path));
}
