import type { Recording } from '../model/curve';

const shared = new WeakMap<Uint8Array, Uint8Array>();

/**
 * The same recording with its sound in memory that threads share, for one that several tasks need: it is copied once,
 * and kept as long as the recording's own bytes are.
 */
export function shareSound(recording: Recording): Recording {
  const { wav } = recording;
  if (wav.buffer instanceof SharedArrayBuffer) return recording;
  let copy = shared.get(wav);
  if (!copy) {
    copy = new Uint8Array(new SharedArrayBuffer(wav.byteLength));
    copy.set(wav);
    shared.set(wav, copy);
  }
  return { ...recording, wav: copy };
}
