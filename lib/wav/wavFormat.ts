import type { Caveat } from '../model/caveat';
import { makeCaveat } from '../words/makeCaveat';
import { makeRefusal } from '../words/makeRefusal';

/** How the samples of a WAV file are written. */
export interface WavFormat {
  encoding: 'pcm' | 'float';
  /** Bits that are meant; PCM samples fill their bytes from the top. */
  bits: number;
  /** Bytes a sample takes: 1 to 4 for PCM, 4 or 8 for float. */
  bytesPerSample: number;
  channels: number;
  sampleRateHz: number;
}

/** More are no recording of a microphone, and each costs memory of its own. */
const MAX_CHANNELS = 256;
const EXTENSIBLE = 0xfffe;
const ENCODINGS: Record<number, WavFormat['encoding']> = { 1: 'pcm', 3: 'float' };
/** Names of tags that are met in practice; any other is named by its number. */
const OTHER_TAGS: Record<number, string> = {
  2: 'ADPCM',
  6: 'A-law',
  7: 'mu-law',
  17: 'ADPCM',
  80: 'MPEG',
  85: 'MPEG layer 3',
};
/** What follows the tag in the GUID of a sub-format, as its bytes stand in the file. */
export const SUBFORMAT_TAIL = [0, 0, 0, 0, 0x10, 0, 0x80, 0, 0, 0xaa, 0, 0x38, 0x9b, 0x71];

/**
 * Read a 'fmt ' chunk.
 *
 * @param chunk the body of the chunk. @param called how messages call the file. @param notes take what was odd.
 * @throws BassloomError `wav-broken`, `wav-unsupported` (naming the format).
 *
 * Where the bytes of a frame contradict the bits of a sample, the wider of the two that can be is taken, and said.
 */
export function readWavFormat(chunk: DataView, called: string, notes: Caveat[]): WavFormat {
  if (chunk.byteLength < 16) {
    throw makeRefusal('wav-broken', { label: called, why: 'short-format', bytes: chunk.byteLength, leastBytes: 16 });
  }
  const encoding = encodingOf(chunk, called);
  const channels = chunk.getUint16(2, true);
  const sampleRateHz = chunk.getUint32(4, true);
  const bits = chunk.getUint16(14, true);
  if (channels === 0) throw makeRefusal('wav-broken', { label: called, why: 'no-channel' });
  if (sampleRateHz === 0) throw makeRefusal('wav-broken', { label: called, why: 'no-rate' });
  if (channels > MAX_CHANNELS) {
    throw makeRefusal('wav-unsupported', { label: called, why: 'channels', channels, mostChannels: MAX_CHANNELS });
  }
  const fits = encoding === 'float' ? bits === 32 || bits === 64 : bits >= 1 && bits <= 32;
  if (!fits) throw makeRefusal('wav-unsupported', { label: called, why: 'bits', encoding, bits });
  const bytesPerSample = bytesOf(encoding, bits, chunk.getUint16(12, true), channels, notes);
  return { encoding, bits, bytesPerSample, channels, sampleRateHz };
}

function encodingOf(chunk: DataView, called: string): WavFormat['encoding'] {
  const tag = chunk.getUint16(0, true);
  if (tag !== EXTENSIBLE) return ENCODINGS[tag] ?? refuseTag(tag, called);
  if (chunk.byteLength < 40) {
    const bytes = chunk.byteLength;
    throw makeRefusal('wav-broken', { label: called, why: 'short-extensible', bytes, leastBytes: 40 });
  }
  if (SUBFORMAT_TAIL.some((byte, i) => chunk.getUint8(26 + i) !== byte)) {
    const guid = Array.from({ length: 16 }, (_, i) =>
      chunk
        .getUint8(24 + i)
        .toString(16)
        .padStart(2, '0'),
    ).join('');
    throw makeRefusal('wav-unsupported', { label: called, why: 'sub-format', guid });
  }
  const subTag = chunk.getUint16(24, true);
  return ENCODINGS[subTag] ?? refuseTag(subTag, called);
}

function refuseTag(tag: number, called: string): never {
  const [hex, tagName] = [`0x${tag.toString(16).padStart(4, '0')}`, OTHER_TAGS[tag] ?? null];
  throw makeRefusal('wav-unsupported', { label: called, why: 'tag', tag: hex, tagName });
}

function bytesOf(
  encoding: WavFormat['encoding'],
  bits: number,
  bytesPerFrame: number,
  channels: number,
  notes: Caveat[],
): number {
  const least = Math.ceil(bits / 8);
  const said = bytesPerFrame / channels;
  if (said === least) return least;
  const wider = encoding === 'pcm' && Number.isInteger(said) && said > least && said <= 4;
  const taken = wider ? said : least;
  notes.push(makeCaveat('wav-frame-size', 'doubt', { bits, bytesPerFrame, channels, bytesPerSample: taken }));
  return taken;
}
