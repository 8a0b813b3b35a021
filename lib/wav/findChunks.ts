import type { Caveat } from '../model/caveat';
import { makeCaveat } from '../words/makeCaveat';
import { makeRefusal } from '../words/makeRefusal';

/** Where something lies in a file: from its first byte up to, not including, the last. */
export interface Span {
  start: number;
  end: number;
}

/** The two chunks that matter. */
export interface WavChunks {
  format: Span;
  /** What is there of the sound. */
  data: Span;
  /** Bytes the header promises for the sound; undefined where it leaves the length open. */
  promised: number | undefined;
}

/** Stands where a length is in 'ds64', or was not known when the header was written. */
const OPEN = 0xffffffff;
const ID = /^[\x20-\x7e]{4}$/;

/**
 * Find format and sound in the chunks of a WAV file (RIFF, or RF64 and BW64 with 64-bit sizes).
 *
 * @param bytes the file. @param called how messages call the file. @param notes take what was odd.
 * @throws BassloomError `not-wav`, `wav-unsupported` (big-endian), `wav-broken` (a chunk is missing).
 *
 * Other chunks are passed over, up to the first whose name is not of printable letters. Sizes only move the place
 * that is looked at next, nothing is allocated by them. A missing pad byte after an odd chunk is noticed. The table of
 * 'ds64' for other chunks beyond 4 GiB is not read. A sound of length 0 that no chunk follows is one whose header was
 * never filled in: it reaches to the end.
 * References: the RIFF WAVE specification (IBM and Microsoft, 1991); ITU-R BS.2088 (BW64); EBU Tech 3306 (RF64).
 */
export function findChunks(bytes: DataView, called: string, notes: Caveat[]): WavChunks {
  const is64 = checkOpening(bytes, called);
  let format: Span | undefined;
  let data: Span | undefined;
  let promised: number | undefined;
  let largeData: number | undefined;
  let sounds = 0;
  for (let at = 12; at + 8 <= bytes.byteLength; ) {
    const id = idAt(bytes, at);
    if (!ID.test(id)) break;
    const start = at + 8;
    let size: number | undefined = bytes.getUint32(at + 4, true);
    if (id === 'ds64' && is64 && start + 16 <= bytes.byteLength) {
      largeData = Number(bytes.getBigUint64(start + 8, true));
    }
    if (id === 'data') {
      if (size === OPEN) size = is64 ? largeData : undefined;
      else if (size === 0 && !isChunk(bytes, start)) size = undefined;
      if (++sounds === 1) promised = size;
    }
    const end = Math.min(start + (size ?? OPEN), bytes.byteLength);
    if (id === 'data' && sounds === 1) data = { start, end: size === undefined ? bytes.byteLength : end };
    if (id === 'fmt ') format ??= { start, end };
    if (size === undefined) break;
    at = start + size;
    if (size % 2 === 1 && !isPadMissing(bytes, at)) at++;
  }
  if (!format) throw makeRefusal('wav-broken', { label: called, why: 'no-format' });
  if (!data) throw makeRefusal('wav-broken', { label: called, why: 'no-data' });
  if (sounds > 1) notes.push(makeCaveat('wav-several-data', 'doubt', { sounds }));
  return { format, data, promised };
}

function checkOpening(bytes: DataView, called: string): boolean {
  if (bytes.byteLength === 0) throw makeRefusal('not-wav', { label: called, why: 'empty' });
  const id = idAt(bytes, 0);
  if (id === 'RIFX') throw makeRefusal('wav-unsupported', { label: called, why: 'big-endian' });
  if (!['RIFF', 'RF64', 'BW64'].includes(id) || idAt(bytes, 8) !== 'WAVE') {
    throw makeRefusal('not-wav', { label: called, why: 'opening' });
  }
  return id !== 'RIFF';
}

/** Four letters, or fewer at the end of the file. */
function idAt(bytes: DataView, at: number): string {
  let id = '';
  for (let i = at; i < Math.min(at + 4, bytes.byteLength); i++) id += String.fromCharCode(bytes.getUint8(i));
  return id;
}

/** Whether a chunk that fits into the file, or the end of the file, stands here. */
function isChunk(bytes: DataView, at: number): boolean {
  if (at >= bytes.byteLength) return true;
  return (
    at + 8 <= bytes.byteLength && ID.test(idAt(bytes, at)) && bytes.getUint32(at + 4, true) <= bytes.byteLength - at - 8
  );
}

function isPadMissing(bytes: DataView, at: number): boolean {
  return ['data', 'fmt '].includes(idAt(bytes, at));
}
