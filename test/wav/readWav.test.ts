import { describe, expect, it } from 'vitest';
import { readWav } from '../../lib/import/readWav';
import { chooseChannel } from '../../lib/wav/chooseChannel';
import { decodeWav } from '../../lib/wav/decodeWav';
import { splitChannels } from '../../lib/wav/splitChannels';
import { writeWav } from '../../lib/wav/writeWav';
import rf64 from '../reference/rf64.json';
import { chunk, ds64, FLOAT_GUID, float32, float64, format, int16, PCM_GUID, riff } from './buildWav';

const SAMPLES = [0, 16384, -32768, 32767];
const VALUES = [0, 0.5, -1, 32767 / 32768];
const data = chunk('data', int16(...SAMPLES));

const valuesIn = (wav: Uint8Array) => decodeWav(readWav(wav).recording).channels.map((column) => Array.from(column));
const notesOf = (wav: Uint8Array) => readWav(wav).notes;
const refusal = (code: string, message?: RegExp) =>
  expect.objectContaining({ name: 'BassloomError', code, ...(message && { message: expect.stringMatching(message) }) });

describe('A WAV file is read', () => {
  it('with 64-bit sizes as libsndfile writes them, samples as sox reads them', () => {
    const wav = Buffer.from(rf64.wav, 'base64');
    const { recording, notes } = readWav(wav);
    expect(notes).toEqual([]);
    expect(recording).toMatchObject({ channels: 2, sampleRateHz: rf64.sampleRateHz, seconds: 20 / 11025 });
    const [left, right] = decodeWav(recording).channels;
    expect([...left].flatMap((sample, i) => [sample, right[i]])).toEqual(rf64.interleaved);
  });

  it('as BW64, the length in ds64 being held to', () => {
    const more = chunk('data', int16(...SAMPLES, 1, 2), 0xffffffff);
    const wav = riff([ds64(8), format(), more], 'BW64', 0xffffffff);
    expect(valuesIn(wav)).toEqual([VALUES]);
    expect(notesOf(wav)).toEqual([]);
  });

  it('in the extensible format, PCM with bits to spare and float', () => {
    const wide = Buffer.from(Int32Array.from([2 ** 30, -(2 ** 31)]).buffer);
    const spare = format({ bits: 32, guid: PCM_GUID });
    spare.writeUInt16LE(24, 8 + 18);
    expect(valuesIn(riff([spare, chunk('data', wide)]))).toEqual([[0.5, -1]]);
    const float = riff([
      format({ bits: 64, guid: FLOAT_GUID, channels: 2 }),
      chunk('data', float64(0.1, 2, -1e-300, 0)),
    ]);
    expect(valuesIn(float)).toEqual([
      [0.1, -1e-300],
      [2, 0],
    ]);
  });

  it('past odd chunks, with and without their pad byte, before and after the sound', () => {
    const odd = chunk('LIST', Buffer.from('INFOabc'));
    expect(valuesIn(riff([odd, format(), chunk('junk', Buffer.alloc(3)), data, odd]))).toEqual([VALUES]);
    const unpadded = odd.subarray(0, -1);
    expect(valuesIn(riff([unpadded, format(), unpadded, data]))).toEqual([VALUES]);
    expect(notesOf(riff([unpadded, format(), unpadded, data]))).toEqual([]);
  });

  it('where it lies in the middle of a larger buffer, at an odd place', () => {
    const wav = riff([format({ tag: 3, bits: 64 }), chunk('data', float64(0.25, -3))]);
    const within = Buffer.concat([Buffer.alloc(3), wav, Buffer.alloc(5)]).subarray(3, 3 + wav.length);
    expect(valuesIn(within)).toEqual([[0.25, -3]]);
    expect(readWav(within).recording.id).toBe(readWav(wav).recording.id);
  });

  it('with samples of 12 and 20 bits, which fill their bytes from the top', () => {
    expect(valuesIn(riff([format({ bits: 12 }), data]))).toEqual([VALUES]);
    const twenty = riff([format({ bits: 20 }), chunk('data', Buffer.from([0, 0, 0x40, 0, 0, 0x80]))]);
    expect(valuesIn(twenty)).toEqual([[0.5, -1]]);
  });

  it('at any sample rate the header can say', () => {
    for (const rateHz of [1, 7999, 44056, 768_000, 0xffffffff]) {
      expect(readWav(riff([format({ rateHz }), data])).recording.sampleRateHz).toBe(rateHz);
    }
  });
});

describe('A note says', () => {
  it('that the header promises more than the file holds, and how much was read', () => {
    const wav = riff([format({ rateHz: 4 }), chunk('data', int16(...SAMPLES), 4_000_000_000)]);
    expect(valuesIn(wav)).toEqual([VALUES]);
    expect(notesOf(wav)).toMatchObject([
      {
        code: 'wav-cut-short',
        severity: 'remark',
        values: { promisedBytes: 4e9, promisedS: 5e8, heldBytes: 8, heldS: 1 },
      },
    ]);
    // a length that no program writes for want of a better one: part of the sound is lost
    const cut = riff([format({ rateHz: 4 }), chunk('data', int16(...SAMPLES), 80_000)]);
    expect(notesOf(cut)).toMatchObject([{ code: 'wav-cut-short', severity: 'doubt' }]);
    const large = riff([ds64(2 ** 60), format(), chunk('data', int16(...SAMPLES), 0xffffffff)], 'RF64');
    expect(valuesIn(large)).toEqual([VALUES]);
    expect(notesOf(large)[0].values).toMatchObject({ promisedBytes: 2 ** 60 });
  });

  it('that the file ends inside a frame', () => {
    const wav = riff([format({ channels: 2 }), data]).subarray(0, -1);
    expect(valuesIn(wav)).toEqual([[0], [0.5]]);
    expect(notesOf(wav)[1]).toMatchObject({ code: 'wav-part-frame', values: { bytes: 3 } });
  });

  it('that the length was never filled in', () => {
    const open = [
      riff([format(), chunk('data', int16(...SAMPLES), 0xffffffff)]),
      riff([format(), chunk('data', int16(...SAMPLES), 0)]),
    ];
    for (const wav of open) {
      expect(valuesIn(wav)).toEqual([VALUES]);
      expect(notesOf(wav)[0].code).toBe('wav-length-open');
    }
  });

  it('that the size of a frame contradicts the bits, and which was believed', () => {
    expect(valuesIn(riff([format({ bytesPerFrame: 0 }), data]))).toEqual([VALUES]);
    expect(notesOf(riff([format({ bytesPerFrame: 0 }), data]))[0].values).toMatchObject({ bytesPerSample: 2 });
    const wide = riff([format({ bits: 24, bytesPerFrame: 4 }), chunk('data', Buffer.from([0, 0, 0, 0x40]))]);
    expect(valuesIn(wide)).toEqual([[0.5]]);
    expect(notesOf(wide)[0]).toMatchObject({ code: 'wav-frame-size', values: { bytesPerSample: 4 } });
  });

  it('that there is more than one sound', () => {
    const wav = riff([format(), data, data]);
    expect(valuesIn(wav)).toEqual([VALUES]);
    expect(notesOf(wav)).toMatchObject([{ code: 'wav-several-data', values: { sounds: 2 } }]);
  });
});

describe('A recording', () => {
  const wav = riff([format({ channels: 2 }), data]);

  it('keeps the bytes as they are, without copying them, under a hash of them', () => {
    const { recording } = readWav(new Uint8Array(wav));
    expect(Buffer.isBuffer(recording.wav)).toBe(true);
    expect(wav.equals(recording.wav)).toBe(true);
    expect(readWav(wav).recording.wav.buffer).toBe(wav.buffer);
    expect(readWav(wav).recording.id).toBe(recording.id);
    expect(readWav(riff([format({ channels: 1 }), data])).recording.id).not.toBe(recording.id);
  });

  it('takes label, role and what the run is from name and options', () => {
    const options = { name: 'takes/unit A_flat_step-4.wav', namePattern: '{device}_{setting}_step-{step}' };
    expect(readWav(wav, { ...options, role: 'programme' }).recording).toMatchObject({
      kind: 'recording',
      role: 'programme',
      label: 'unit A_flat_step-4',
      about: { device: 'unit A', setting: 'flat', driveDb: 12 },
      steps: [{ did: 'import', with: { name: 'unit A_flat_step-4', encoding: 'pcm', bits: 16 } }],
    });
    expect(readWav(wav, { ...options, name: 'other.wav' }).notes).toHaveLength(1);
    expect(readWav(wav).recording).toMatchObject({ role: 'capture', about: {} });
    expect(() => readWav(wav, { role: 'song' as 'capture' })).toThrow(refusal('bad-option'));
  });

  it('is parted into channels byte for byte, in every format', () => {
    for (const encoding of ['pcm16', 'pcm24', 'pcm32', 'float32', 'float64'] as const) {
      const channels = [
        Float64Array.of(0.5, -1, 0.25),
        Float64Array.of(0, 0.125, -0.5),
        Float64Array.of(-0.25, 0, 0.5),
      ];
      const { recording } = readWav(writeWav({ sampleRateHz: 44100, channels }, { format: encoding }), {
        name: 'a.wav',
      });
      const parts = splitChannels(recording);
      expect(parts.map((part) => Float64Array.from(decodeWav(part).channels[0]))).toEqual(channels);
      expect(parts[2]).toMatchObject({ label: 'a, channel 3', channels: 1, seconds: 3 / 44100, sampleRateHz: 44100 });
      expect(parts[2].steps.at(-1)).toEqual({ did: 'choose channel', with: { channel: 3, of: 3 } });
      expect(notesOf(parts[1].wav)).toEqual([]);
      expect(chooseChannel(parts[1], 1)).toBe(parts[1]);
    }
  });

  it('has no channel 0, 3 or 1.5 of two', () => {
    const { recording } = readWav(wav);
    for (const channel of [0, 3, 1.5, Number.NaN]) {
      expect(() => chooseChannel(recording, channel)).toThrow(refusal('no-such-channel', /give 1 to 2/));
    }
  });
});

describe('It is refused', () => {
  const refused: [string, string, RegExp, Uint8Array][] = [
    ['an empty file', 'not-wav', /empty/, Buffer.alloc(0)],
    ['text', 'not-wav', /Give a WAV file/, Buffer.from('20 80.5\n25 81.5\n')],
    ['another RIFF file', 'not-wav', /Give a WAV file/, Buffer.from('RIFF\x04\0\0\0AVI LIST')],
    ['big-endian', 'wav-unsupported', /RIFX/, riff([format(), data], 'RIFX')],
    ['mu-law', 'wav-unsupported', /0x0007 \(mu-law\)/, riff([format({ tag: 7, bits: 8 }), data])],
    ['an unknown tag', 'wav-unsupported', /0x1234;/, riff([format({ tag: 0x1234 }), data])],
    [
      'an extensible MPEG',
      'wav-unsupported',
      /0x0055 \(MPEG/,
      riff([format({ guid: PCM_GUID.replace('01', '55') }), data]),
    ],
    ['a foreign sub-format', 'wav-unsupported', /GUID bytes 0{32}/, riff([format({ guid: '0'.repeat(32) }), data])],
    ['float of 16 bits', 'wav-unsupported', /float of 16 bits/, riff([format({ tag: 3 }), data])],
    ['PCM of 64 bits', 'wav-unsupported', /PCM of 64 bits/, riff([format({ bits: 64 }), data])],
    [
      'too many channels',
      'wav-unsupported',
      /65535 channels/,
      riff([format({ channels: 65535, bytesPerFrame: 2 }), data]),
    ],
    ['no channel', 'wav-broken', /0 channels/, riff([format({ channels: 0 }), data])],
    ['no sample rate', 'wav-broken', /0\sHz/, riff([format({ rateHz: 0 }), data])],
    ['no format', 'wav-broken', /'fmt '/, riff([data])],
    ['a cut header', 'wav-broken', /'data'/, riff([format(), data]).subarray(0, 30)],
    ['a short format', 'wav-broken', /10 bytes, at least 16/, riff([chunk('fmt ', Buffer.alloc(10)), data])],
    ['no sound', 'wav-broken', /'data'/, riff([format(), chunk('LIST', Buffer.from('INFO'))])],
    ['no sample', 'wav-empty', /no sample/, riff([format(), chunk('data', Buffer.alloc(0))])],
    ['less than a frame', 'wav-empty', /no sample/, riff([format({ channels: 8 }), data])],
    [
      'a float that is no number',
      'wav-not-finite',
      /channel 2 holds no number at 0.5\ss/,
      riff([format({ tag: 3, bits: 32, channels: 2, rateHz: 2 }), chunk('data', float32(0, 0, 0, Number.NaN))]),
    ],
  ];
  it.each(refused)('%s', (_, code, message, wav) => {
    expect(() => readWav(wav, { name: 'take 1.wav' })).toThrow(refusal(code, message));
    expect(() => readWav(wav, { name: 'take 1.wav' })).toThrow(/^take 1: /);
    expect(() => decodeWav(wav)).toThrow(refusal(code, message));
  });

  it('what is no bytes at all', () => {
    for (const source of ['RIFF', undefined, null, [82, 73]]) {
      expect(() => readWav(source as unknown as Uint8Array)).toThrow(refusal('bad-source'));
      expect(() => decodeWav(source as unknown as Uint8Array)).toThrow(refusal('bad-source'));
    }
  });
});
