import type { WavFormat } from './wavFormat';

export type Column = Float32Array | Float64Array;

/** Fills a column with the samples that begin at `at` and every `stride` bytes after; full scale is 1. */
type Fill = (column: Column, view: DataView, at: number, stride: number) => void;

// A loop each: one loop that calls a reader chosen at run time takes three times as long.
const PCM: Record<number, Fill> = {
  1: (column, view, at, stride) => {
    // eight bits are unsigned, silence is 128
    for (let i = 0; i < column.length; i++, at += stride) column[i] = (view.getUint8(at) - 128) * 2 ** -7;
  },
  2: (column, view, at, stride) => {
    for (let i = 0; i < column.length; i++, at += stride) column[i] = view.getInt16(at, true) * 2 ** -15;
  },
  3: (column, view, at, stride) => {
    // one reading with the byte before, which the header always has, takes half the time of two
    for (let i = 0; i < column.length; i++, at += stride) {
      column[i] = (view.getInt32(at - 1, true) >> 8) * 2 ** -23;
    }
  },
  4: (column, view, at, stride) => {
    for (let i = 0; i < column.length; i++, at += stride) column[i] = view.getInt32(at, true) * 2 ** -31;
  },
};
const FLOAT: Record<number, Fill> = {
  4: (column, view, at, stride) => {
    for (let i = 0; i < column.length; i++, at += stride) column[i] = view.getFloat32(at, true);
  },
  8: (column, view, at, stride) => {
    for (let i = 0; i < column.length; i++, at += stride) column[i] = view.getFloat64(at, true);
  },
};

/** The loop for a format. */
export function fillFor(format: WavFormat): Fill {
  return (format.encoding === 'pcm' ? PCM : FLOAT)[format.bytesPerSample];
}

/** Whether single precision holds every sample of this format exactly. */
export function fitsSingle(format: WavFormat): boolean {
  return format.encoding === 'float' ? format.bytesPerSample === 4 : format.bytesPerSample <= 3;
}
