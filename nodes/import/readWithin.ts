import { basename } from 'node:path';
import { BassloomError } from '../../lib/model/errors';
import { FIRST_BLOCK, looksBinary } from './looksBinary';
import { looksLikeWav } from './looksLikeWav';
import { openRegular } from './openRegular';

/** Megabytes that are read of one file. */
export interface Limits {
  mostTextMb: number;
  mostSoundMb: number;
}

export interface Reading {
  /** Folder that a link must not lead out of. */
  within?: string;
  /** What is left of the sound that is held at once. */
  lot?: { leftMb: number };
}

const MB = 2 ** 20;

/**
 * Read a file whole, unless it is larger than what is read of its kind, or its first block shows that it is neither
 * text nor sound: then no more of it is read than that.
 *
 * @throws BassloomError `not-a-regular-file`, `file-too-large`, `too-much-at-once`, `not-text`.
 */
export async function readWithin(path: string, limits: Limits, { within, lot }: Reading = {}): Promise<Buffer> {
  const { mostTextMb, mostSoundMb } = limits;
  const file = await openRegular(path, within);
  try {
    const { size } = await file.stat();
    const first = Buffer.alloc(Math.min(size, FIRST_BLOCK));
    const { bytesRead } = await file.read(first, 0, first.length, 0);
    const block = first.subarray(0, bytesRead);
    const isSound = looksLikeWav(block, path);
    checkSize(basename(path), size, isSound ? mostSoundMb : mostTextMb, isSound);
    if (isSound && lot) takeFrom(lot, basename(path), size, mostSoundMb);
    const why = isSound ? undefined : looksBinary(block, size);
    if (why) {
      const what = `${basename(path)} is neither text nor a WAV file: ${why}. Export it as text, or record as WAV.`;
      throw new BassloomError('not-text', what);
    }
    // no more than was counted, should it grow
    const whole = Buffer.alloc(size);
    let read = block.copy(whole);
    while (read < size) {
      const { bytesRead: more } = await file.read(whole, read, size - read, read);
      if (more === 0) break;
      read += more;
    }
    return whole.subarray(0, read);
  } finally {
    await file.close();
  }
}

function takeFrom(lot: { leftMb: number }, name: string, size: number, mostMb: number): void {
  if (size > lot.leftMb * MB) {
    const what = `${name} is left out: all recordings of one message hold at most ${mostMb} MB.`;
    throw new BassloomError('too-much-at-once', `${what} Read them in smaller lots.`);
  }
  lot.leftMb -= size / MB;
}

function checkSize(name: string, size: number, mostMb: number, isSound: boolean): void {
  if (size <= mostMb * MB) return;
  const kind = isSound ? 'sound' : 'text';
  const advice = isSound ? 'Cut it, or record fewer channels at a lower sample rate.' : 'Export fewer points.';
  const what = `${name} has ${(size / MB).toFixed(1)} MB; at most ${mostMb} MB of ${kind} are read of one file. ${advice}`;
  throw new BassloomError('file-too-large', what);
}
