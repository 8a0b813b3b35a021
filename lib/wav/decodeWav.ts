import type { Recording } from '../model/curve';
import { checkFinite } from './checkFinite';
import { type Column, fillFor, fitsSingle } from './fillColumn';
import { layOutWav, type WavLayout } from './layOutWav';

/** Sound as numbers: one column a channel, all of one length, full scale at 1. */
export interface Sound {
  sampleRateHz: number;
  channels: Float32Array[] | Float64Array[];
}

/**
 * Decode the samples of a recording, or of the bytes of a WAV file.
 *
 * @param source PCM of 1 to 32 bits, or float of 32 or 64, plain or extensible, in RIFF, RF64 or BW64.
 * @returns the sample rate in Hz and the channels. An integer n of b bits becomes n / 2^(b-1); floats are as written.
 * @throws BassloomError `bad-source`, `not-wav`, `wav-unsupported`, `wav-broken`, `wav-empty`, `wav-not-finite`.
 *
 * Every sample is exact: columns are single precision where that holds the format (up to 24 bits, float 32) and
 * double where it does not. So they take at most twice the bytes of the file (four times for 8 bits). Their length
 * comes from the bytes that are there, never from what the header promises; `readWav` tells the difference.
 *
 * @example
 * const { sampleRateHz, channels } = decodeWav(recording);
 * const peak = channels[0].reduce((most, sample) => Math.max(most, Math.abs(sample)), 0);
 */
export function decodeWav(source: Recording | Uint8Array): Sound {
  const isBytes = source instanceof Uint8Array;
  const called = isBytes ? 'WAV' : (source?.label ?? 'WAV');
  const layout = layOutWav(isBytes ? source : source?.wav, called);
  checkFinite(layout, called);
  const channels = fitsSingle(layout)
    ? decodeInto(layout, (frames) => new Float32Array(frames))
    : decodeInto(layout, (frames) => new Float64Array(frames));
  return { sampleRateHz: layout.sampleRateHz, channels };
}

function decodeInto<C extends Column>(layout: WavLayout, make: (frames: number) => C): C[] {
  const fill = fillFor(layout);
  return Array.from({ length: layout.channels }, (_, channel) => {
    const column = make(layout.frames);
    fill(column, layout.view, layout.start + channel * layout.bytesPerSample, layout.bytesPerFrame);
    return column;
  });
}
