import type { WavFormat } from './wavFormat';

/**
 * Write a channel's samples among the bytes of a WAV file.
 *
 * @param file takes them. @param column full scale = 1. @param at byte of the first sample. @param stride bytes from
 * one sample to the next of the channel. @param format how they are written.
 * @returns the index of the first sample that cannot be written, as no number or beyond full scale; -1 where all are.
 *
 * Notes: plain loops over bytes; calls of a writer for each sample take ten times as long.
 */
export function encodeColumn(
  file: Uint8Array,
  column: ArrayLike<number>,
  at: number,
  stride: number,
  { encoding, bits }: Pick<WavFormat, 'encoding' | 'bits'>,
): number {
  return encoding === 'float'
    ? encodeFloat(file, column, at, stride, bits)
    : encodePcm(file, column, at, stride, 2 ** (bits - 1), bits);
}

function encodePcm(
  file: Uint8Array,
  column: ArrayLike<number>,
  at: number,
  stride: number,
  full: number,
  bits: number,
): number {
  for (let i = 0; i < column.length; i++) {
    const step = Math.round(column[i] * full);
    if (!(Math.abs(step) <= full)) return i;
    const value = step < full ? step : full - 1;
    const to = at + i * stride;
    file[to] = value;
    file[to + 1] = value >> 8;
    if (bits > 16) file[to + 2] = value >> 16;
    if (bits > 24) file[to + 3] = value >> 24;
  }
  return -1;
}

function encodeFloat(file: Uint8Array, column: ArrayLike<number>, at: number, stride: number, bits: number): number {
  const view = new DataView(file.buffer, file.byteOffset, file.byteLength);
  for (let i = 0; i < column.length; i++) {
    const sample = bits === 32 ? Math.fround(column[i]) : column[i];
    if (!Number.isFinite(sample)) return i;
    if (bits === 32) view.setFloat32(at + i * stride, sample, true);
    else view.setFloat64(at + i * stride, sample, true);
  }
  return -1;
}
