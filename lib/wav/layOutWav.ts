import type { Caveat } from '../model/caveat';
import { makeCaveat } from '../words/makeCaveat';
import { makeRefusal } from '../words/makeRefusal';
import { findChunks, type WavChunks } from './findChunks';
import { readWavFormat, type WavFormat } from './wavFormat';

/** Where the samples of a WAV file lie and how to read them. */
export interface WavLayout extends WavFormat {
  view: DataView;
  /** Byte at which the first sample begins. */
  start: number;
  frames: number;
  bytesPerFrame: number;
  /** What was odd. */
  notes: Caveat[];
}

/** Programs that write into a pipe promise about 2^31 or 2^32 bytes, for want of the length. */
const PLACEHOLDER_BYTES = 0x7f00_0000;

/**
 * Find out what a WAV file holds without decoding it.
 *
 * @throws BassloomError `bad-source`, `not-wav`, `wav-unsupported`, `wav-broken`, `wav-empty`.
 */
export function layOutWav(wav: Uint8Array, called = 'WAV'): WavLayout {
  if (!(wav instanceof Uint8Array)) {
    throw makeRefusal('bad-source', { label: called });
  }
  const view = new DataView(wav.buffer, wav.byteOffset, wav.byteLength);
  const notes: Caveat[] = [];
  const chunks = findChunks(view, called, notes);
  const { format: at, data } = chunks;
  const format = readWavFormat(new DataView(wav.buffer, wav.byteOffset + at.start, at.end - at.start), called, notes);
  const bytesPerFrame = format.bytesPerSample * format.channels;
  const frames = Math.floor((data.end - data.start) / bytesPerFrame);
  if (frames === 0) throw makeRefusal('wav-empty', { label: called });
  noteLength(chunks, frames, bytesPerFrame, format.sampleRateHz, notes);
  return { ...format, view, start: data.start, frames, bytesPerFrame, notes };
}

function noteLength(chunks: WavChunks, frames: number, perFrame: number, rateHz: number, notes: Caveat[]): void {
  const { data, promised } = chunks;
  const held = data.end - data.start;
  if (promised === undefined) {
    notes.push(makeCaveat('wav-length-open', 'remark', { seconds: frames / rateHz }));
  } else if (promised > held) {
    notes.push(
      makeCaveat('wav-cut-short', promised >= PLACEHOLDER_BYTES ? 'remark' : 'doubt', {
        promisedBytes: promised,
        heldBytes: held,
        promisedS: Math.floor(promised / perFrame) / rateHz,
        heldS: frames / rateHz,
      }),
    );
  }
  const rest = held % perFrame;
  if (rest !== 0) notes.push(makeCaveat('wav-part-frame', 'remark', { bytes: rest }));
}
