import { existsSync } from 'node:fs';
import { dirname, isAbsolute, resolve } from 'node:path';
import type { RedApi } from './nodeRed';

/** A path as the core file nodes take it: a relative one starts at `fileWorkingDirectory` of the settings. */
export function fullPath(RED: RedApi, path: string): string {
  const start = RED.settings?.fileWorkingDirectory;
  return isAbsolute(path) || !start ? resolve(path) : resolve(start, path);
}

/** The same for measurements to read: a relative path that leads nowhere is looked for among those of the package. */
export function pathToRead(RED: RedApi, path: string): string {
  const own = fullPath(RED, path);
  const packaged = resolve(__dirname, '..', path);
  const isThere = (file: string) => existsSync(file) || existsSync(dirname(file));
  return !isAbsolute(path) && !isThere(own) && isThere(packaged) ? packaged : own;
}
