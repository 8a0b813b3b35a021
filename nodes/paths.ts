import { isAbsolute, resolve } from 'node:path';
import type { RedApi } from './nodeRed';

/** A path as the core file nodes take it: a relative one starts at `fileWorkingDirectory` of the settings. */
export function fullPath(RED: RedApi, path: string): string {
  const start = RED.settings?.fileWorkingDirectory;
  return isAbsolute(path) || !start ? resolve(path) : resolve(start, path);
}
