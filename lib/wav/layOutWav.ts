import { BassloomError } from '../model/errors';
import { refuse } from '../model/refuse';
import { findChunks, type WavChunks } from './findChunks';
import { readWavFormat, type WavFormat } from './wavFormat';

/** Where the samples of a WAV file lie and how to read them. */
export interface WavLayout extends WavFormat {
  view: DataView;
  /** Byte at which the first sample begins. */
  start: number;
  frames: number;
  bytesPerFrame: number;
  /** What was odd, one sentence each. */
  notes: string[];
}

/**
 * Find out what a WAV file holds without decoding it.
 *
 * @throws BassloomError `bad-source`, `not-wav`, `wav-unsupported`, `wav-broken`, `wav-empty`.
 */
export function layOutWav(wav: Uint8Array, called = 'WAV'): WavLayout {
  if (!(wav instanceof Uint8Array)) {
    throw new BassloomError('bad-source', `${called}: give the bytes of a WAV file, as a Buffer or Uint8Array.`);
  }
  const view = new DataView(wav.buffer, wav.byteOffset, wav.byteLength);
  const notes: string[] = [];
  const chunks = findChunks(view, called, notes);
  const { format: at, data } = chunks;
  const format = readWavFormat(new DataView(wav.buffer, wav.byteOffset + at.start, at.end - at.start), called, notes);
  const bytesPerFrame = format.bytesPerSample * format.channels;
  const frames = Math.floor((data.end - data.start) / bytesPerFrame);
  if (frames === 0) refuse('wav-empty', called, 'it holds no sample. Record it anew.');
  noteLength(chunks, frames, bytesPerFrame, format.sampleRateHz, notes);
  return { ...format, view, start: data.start, frames, bytesPerFrame, notes };
}

function noteLength(chunks: WavChunks, frames: number, perFrame: number, rateHz: number, notes: string[]): void {
  const { data, promised } = chunks;
  const held = data.end - data.start;
  const seconds = (count: number) => `${Number((count / rateHz).toPrecision(4))} s`;
  if (promised === undefined) {
    notes.push(`The header leaves the length open; read to the end of the file, ${seconds(frames)}.`);
  } else if (promised > held) {
    const wanted = Math.floor(promised / perFrame);
    notes.push(
      `The header promises ${promised} bytes of sound (${seconds(wanted)}), the file holds ${held}; ` +
        `read as far as it goes, ${seconds(frames)}.`,
    );
  }
  if (held % perFrame !== 0) notes.push(`The last ${held % perFrame} bytes are no whole frame and were left out.`);
}
