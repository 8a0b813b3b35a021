import { readFile } from 'node:fs/promises';
import { basename, join } from 'node:path';
import type { Recording } from '../lib/model/curve';
import { BassloomError } from '../lib/model/errors';
import type { RedApi } from './nodeRed';
import { fullPath } from './paths';
import { safeName } from './report/safeName';
import { writeWhole } from './writeWhole';

/**
 * Write a recording as the WAV file it is, whole or not at all.
 *
 * @param path the file where it ends in `.wav`, otherwise a folder, in which the file is called `name`. A relative path
 * starts where those of the core file nodes do.
 * @param name file name without '.wav'; the recording's label where left out.
 * @returns the full path. A file of the same bytes is left as it is.
 * @throws BassloomError `file-exists`: another file has that name. It may be the stimulus that captures were made
 * with, or a capture, so it is never replaced.
 */
export async function writeSound(
  RED: RedApi,
  path: string,
  recording: Recording,
  name = recording.label,
): Promise<string> {
  const whole = fullPath(RED, path);
  const file = isWavPath(path) ? whole : join(whole, `${safeName(name)}.wav`);
  const before = await readFile(file).catch((problem: NodeJS.ErrnoException) => {
    if (problem.code !== 'ENOENT') throw problem;
  });
  if (before?.equals(recording.wav)) return file;
  if (before) {
    throw new BassloomError(
      'file-exists',
      `There is another file called "${basename(file)}" already, and it is not replaced; give another name, or move it away.`,
      { field: 'file' },
    );
  }
  await writeWhole(file, recording.wav);
  return file;
}

/** Whether a path names a file of its own, not a folder. */
export function isWavPath(path: string): boolean {
  return /\.wav$/i.test(path);
}
