import { open } from 'node:fs/promises';
import { basename } from 'node:path';
import { BassloomError } from '../../lib/model/errors';
import { looksLikeWav } from './looksLikeWav';

/** Larger texts are no frequency responses, bytes. */
const MOST_TEXT = 256 * 2 ** 20;
/** Node.js reads no larger file in one piece: six hours of one channel at 48 kHz and 16 bit. */
const MOST_SOUND = 2 ** 31 - 1;

/**
 * Make a reader of the files of one message, which refuses what is too large to be held: by the first bytes of a
 * file it is text or sound.
 *
 * @param mostSound bytes of sound in one file, and in all files together.
 * @returns a function that reads a file; it throws BassloomError `file-too-large`, `too-much-at-once`.
 */
export function readFilesWithin(mostSound = MOST_SOUND): (path: string) => Promise<Buffer> {
  let left = mostSound;
  return async (path) => {
    const file = await open(path);
    try {
      const { size } = await file.stat();
      const { buffer } = await file.read({ buffer: Buffer.alloc(4), position: 0 });
      const isSound = looksLikeWav(buffer, path);
      checkSize(basename(path), size, isSound ? mostSound : MOST_TEXT, isSound);
      if (isSound && size > left) {
        const what = `${basename(path)} is left out: all recordings of one message hold at most ${mostSound} bytes.`;
        throw new BassloomError('too-much-at-once', `${what} Read them in smaller lots.`);
      }
      if (isSound) left -= size;
      return await file.readFile();
    } finally {
      await file.close();
    }
  };
}

function checkSize(name: string, size: number, most: number, isSound: boolean): void {
  if (size <= most) return;
  const advice = isSound ? ' Cut it, or record fewer channels at a lower sample rate.' : '';
  throw new BassloomError('file-too-large', `${name} has ${size} bytes; at most ${most} are read.${advice}`);
}
