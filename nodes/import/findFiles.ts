import { readdir, stat } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';
import { BassloomError } from '../../lib/model/errors';
import { byName } from '../byName';
import { FOLDER_FILE } from './folderSchema';

/**
 * Name the files that a path stands for: itself, those of a folder, or those that its last part matches,
 * where `*` stands for any letters and `?` for one. Hidden files are left out, and settings of a watched folder.
 *
 * @returns paths in the order of their names, numbers in them counted as numbers.
 * @throws BassloomError `no-such-file`, `no-files`.
 */
export async function findFiles(path: string): Promise<string[]> {
  const last = basename(path);
  const isPattern = /[*?]/.test(last);
  const folder = isPattern ? dirname(path) : path;
  const found = await stat(folder).catch((cause) => {
    throw new BassloomError('no-such-file', `There is no file or folder "${folder}".`, { field: 'files', cause });
  });
  if (!found.isDirectory()) return [path];
  const pattern = isPattern ? namePattern(last) : /^[^.]/;
  const matches = (name: string) => pattern.test(name) && (isPattern || name !== FOLDER_FILE);
  const entries = await readdir(folder, { withFileTypes: true });
  const names = entries.filter((entry) => !entry.isDirectory() && matches(entry.name)).map((entry) => entry.name);
  if (names.length === 0) throw new BassloomError('no-files', `There are no files in "${path}".`, { field: 'files' });
  return names.sort(byName).map((name) => join(folder, name));
}

/** A file name in which `*` stands for any letters and `?` for one; never a hidden file. */
export function namePattern(text: string): RegExp {
  const parts = { '*': '.*', '?': '.' } as Record<string, string>;
  const source = [...text].map((letter) => parts[letter] ?? letter.replace(/[\\^$.|+()[\]{}]/, '\\$&')).join('');
  return new RegExp(`^(?!\\.)${source}$`, 'su');
}
