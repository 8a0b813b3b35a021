import { makeRefusal } from '../words/makeRefusal';
import { SUBFORMAT_TAIL, type WavFormat } from './wavFormat';

/**
 * Build what stands before the samples of a WAV file; an odd number of bytes of samples wants a zero after them.
 *
 * @param frames how many frames of samples follow. @param comment is kept as INFO text.
 * @throws BassloomError `too-large` beyond 4 GiB.
 *
 * Extensible where the specification wants it (more than two channels, PCM of more than 16 bits or with bits to
 * spare), with no loudspeaker named for any channel.
 */
export function wavHeader(format: WavFormat, frames: number, comment = ''): Buffer {
  const { encoding, bits, bytesPerSample, channels } = format;
  const extensible = channels > 2 || (encoding === 'pcm' && (bits > 16 || bits < bytesPerSample * 8));
  const dataBytes = frames * bytesPerSample * channels;
  const chunks = [
    chunk('fmt ', formatBody(format, extensible)),
    // formats other than plain PCM also say how many frames there are
    ...(extensible || encoding === 'float' ? [chunk('fact', uint32(frames))] : []),
    // before the samples, since some programs look no further
    ...(comment
      ? [chunk('LIST', Buffer.concat([Buffer.from('INFO'), chunk('ICMT', Buffer.from(`${comment}\0`))]))]
      : []),
  ];
  const rest = Buffer.concat([Buffer.from('WAVE'), ...chunks, Buffer.from('data')]);
  const riffBytes = rest.length + 4 + dataBytes + (dataBytes % 2);
  if (riffBytes > 0xffffffff) {
    throw makeRefusal('too-large', { bytes: riffBytes });
  }
  return Buffer.concat([Buffer.from('RIFF'), uint32(riffBytes), rest, uint32(dataBytes)]);
}

function formatBody(format: WavFormat, extensible: boolean): Buffer {
  const { encoding, bits, bytesPerSample, channels, sampleRateHz } = format;
  const tag = encoding === 'pcm' ? 1 : 3;
  const body = Buffer.alloc(extensible ? 40 : encoding === 'float' ? 18 : 16);
  body.writeUInt16LE(extensible ? 0xfffe : tag, 0);
  body.writeUInt16LE(channels, 2);
  body.writeUInt32LE(sampleRateHz, 4);
  // only for players that plan their reading; it does not fit where rate and channels are absurd
  body.writeUInt32LE(Math.min(sampleRateHz * bytesPerSample * channels, 0xffffffff), 8);
  body.writeUInt16LE(bytesPerSample * channels, 12);
  body.writeUInt16LE(extensible ? bytesPerSample * 8 : bits, 14);
  if (!extensible) return body;
  body.writeUInt16LE(22, 16);
  body.writeUInt16LE(bits, 18);
  body.writeUInt16LE(tag, 24);
  body.set(SUBFORMAT_TAIL, 26);
  return body;
}

function chunk(id: string, body: Buffer): Buffer {
  return Buffer.concat([Buffer.from(id), uint32(body.length), body, Buffer.alloc(body.length % 2)]);
}

function uint32(value: number): Buffer {
  const bytes = Buffer.alloc(4);
  bytes.writeUInt32LE(value);
  return bytes;
}
