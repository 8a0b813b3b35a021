/** A WAV file put together by hand, chunk by chunk, so that it can be as odd as a test wants. */
export function riff(chunks: Uint8Array[], id = 'RIFF', size?: number): Buffer {
  const body = Buffer.concat([Buffer.from('WAVE'), ...chunks]);
  return chunk(id, body, size);
}

/** A chunk with its pad byte; its size may be a lie. */
export function chunk(id: string, body: Uint8Array, size = body.length): Buffer {
  const out = Buffer.alloc(8 + body.length + (body.length % 2));
  out.write(id, 'latin1');
  out.writeUInt32LE(size, 4);
  out.set(body, 8);
  return out;
}

export interface FormatFields {
  tag?: number;
  channels?: number;
  rateHz?: number;
  bits?: number;
  bytesPerFrame?: number;
  /** The sub-format of an extensible one, as the bytes of its GUID in hexadecimal. */
  guid?: string;
}

export function format(fields: FormatFields = {}): Buffer {
  const { channels = 1, rateHz = 48000, bits = 16, guid } = fields;
  const bytesPerFrame = fields.bytesPerFrame ?? channels * Math.ceil(bits / 8);
  const body = Buffer.alloc(guid ? 40 : 16);
  body.writeUInt16LE(fields.tag ?? (guid ? 0xfffe : 1), 0);
  body.writeUInt16LE(channels, 2);
  body.writeUInt32LE(rateHz, 4);
  body.writeUInt32LE((rateHz * bytesPerFrame) % 2 ** 32, 8);
  body.writeUInt16LE(bytesPerFrame, 12);
  body.writeUInt16LE(bits, 14);
  if (guid) {
    body.writeUInt16LE(22, 16);
    body.writeUInt16LE(bits, 18);
    body.write(guid, 24, 'hex');
  }
  return chunk('fmt ', body);
}

export const PCM_GUID = '0100000000001000800000aa00389b71';
export const FLOAT_GUID = '0300000000001000800000aa00389b71';

/** 64-bit sizes, as RF64 and BW64 have them. */
export function ds64(dataBytes: number): Buffer {
  const body = Buffer.alloc(28);
  body.writeBigUInt64LE(BigInt(dataBytes + 100), 0);
  body.writeBigUInt64LE(BigInt(dataBytes), 8);
  return chunk('ds64', body);
}

export const int16 = (...values: number[]) => Buffer.from(Int16Array.from(values).buffer);
export const float32 = (...values: number[]) => Buffer.from(Float32Array.from(values).buffer);
export const float64 = (...values: number[]) => Buffer.from(Float64Array.from(values).buffer);
