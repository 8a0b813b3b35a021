import { makeRefusal, type RefusalValues } from '../words/makeRefusal';
import { encodeColumn } from './encodeColumn';
import type { WavFormat } from './wavFormat';
import { wavHeader } from './wavHeader';

/** How `writeWav` writes. */
export interface WriteWavOptions {
  /** Default 'float32'. */
  format?: 'pcm16' | 'pcm24' | 'pcm32' | 'float32' | 'float64';
  /** A remark for whoever opens the file, kept as INFO text. */
  comment?: string;
}

const FORMATS: Record<string, Pick<WavFormat, 'encoding' | 'bits'>> = {
  pcm16: { encoding: 'pcm', bits: 16 },
  pcm24: { encoding: 'pcm', bits: 24 },
  pcm32: { encoding: 'pcm', bits: 32 },
  float32: { encoding: 'float', bits: 32 },
  float64: { encoding: 'float', bits: 64 },
};

/**
 * Write sound as a WAV file.
 *
 * @param sound sample rate in whole Hz; 1 to 256 channels of equal length, full scale at 1.
 * @returns the bytes of the file.
 * @throws BassloomError `bad-option`, `wav-empty`, `unequal-columns`, `not-a-number`, `over-full-scale`, `too-large`.
 *
 * PCM is rounded to the nearest step without dither; +1 becomes the highest step. More than full scale is refused
 * rather than clipped, in PCM; float holds it.
 *
 * @example
 * writeFileSync('sweep.wav', writeWav({ sampleRateHz: 48000, channels: [samples] }, { format: 'pcm24' }));
 */
export function writeWav(
  sound: { sampleRateHz: number; channels: ArrayLike<number>[] },
  options: WriteWavOptions = {},
): Buffer {
  const { sampleRateHz, channels } = sound;
  const { encoding, bits } = FORMATS[options.format || 'float32'] ?? bad('format', 'sound-format', options.format);
  const frames = checkSound(sampleRateHz, channels);
  const bytesPerSample = bits / 8;
  const format = { encoding, bits, bytesPerSample, channels: channels.length, sampleRateHz };
  const head = wavHeader(format, frames, options.comment);
  const dataBytes = frames * bytesPerSample * channels.length;
  const file = Buffer.alloc(head.length + dataBytes + (dataBytes % 2));
  file.set(head);
  for (const [c, column] of channels.entries()) {
    const at = head.length + c * bytesPerSample;
    const bad = encodeColumn(file, column, at, bytesPerSample * channels.length, format);
    if (bad >= 0) refuseSample(c, bad, column[bad]);
  }
  return file;
}

function checkSound(sampleRateHz: number, channels: ArrayLike<number>[]): number {
  if (!(Number.isInteger(sampleRateHz) && sampleRateHz >= 1 && sampleRateHz <= 0xffffffff)) {
    bad('sampleRateHz', 'whole-hz', sampleRateHz);
  }
  if (!(channels.length >= 1 && channels.length <= 256)) bad('channels', 'channel-count');
  const frames = channels[0].length;
  if (frames === 0) throw makeRefusal('wav-empty', { label: null });
  const odd = channels.findIndex((column) => column.length !== frames);
  if (odd > 0) {
    const values = { channel: odd + 1, length: channels[odd].length, wanted: frames };
    throw makeRefusal('unequal-columns', values, { field: 'channels' });
  }
  return frames;
}

function refuseSample(channel: number, index: number, sample: number): never {
  const values = { channel: channel + 1, index, sample };
  throw makeRefusal(Number.isFinite(sample) ? 'over-full-scale' : 'not-a-number', values, { field: 'channels' });
}

function bad(field: string, wanted: RefusalValues<'bad-option'>['wanted'], value?: string | number): never {
  throw makeRefusal('bad-option', { wanted, ...(value !== undefined && { value }) }, { field });
}
