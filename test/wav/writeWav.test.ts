import { describe, expect, it } from 'vitest';
import { readWav } from '../../lib/import/readWav';
import { decodeWav } from '../../lib/wav/decodeWav';
import { writeWav } from '../../lib/wav/writeWav';

const one = (...samples: number[]) => ({ sampleRateHz: 48000, channels: [samples] });
const refusal = (code: string) => expect.objectContaining({ name: 'BassloomError', code });

describe('writeWav', () => {
  it('rounds PCM to the nearest step, and makes +1 the highest', () => {
    const steps = decodeWav(writeWav(one(1, -1, 0.6 / 32768, -1.4 / 32768), { format: 'pcm16' })).channels[0];
    expect(Array.from(steps, (sample) => sample * 32768)).toEqual([32767, -32768, 1, -1]);
  });

  it('writes single precision where nothing else is asked, beyond full scale too', () => {
    const { recording } = readWav(writeWav(one(0.1, -7)));
    expect([...decodeWav(recording).channels[0]]).toEqual([Math.fround(0.1), -7]);
  });

  it('lays a plain 16-bit file out as the RIFF WAVE specification (1991) has it', () => {
    const wav = writeWav({ sampleRateHz: 44100, channels: [[0.5], [-0.5]] }, { format: 'pcm16' });
    const fields = ['52494646', '28000000', '57415645', '666d7420', '10000000', '0100', '0200', '44ac0000', '10b10200'];
    const rest = ['0400', '1000', '64617461', '04000000', '0040', '00c0'];
    expect(wav.toString('hex')).toBe([...fields, ...rest].join(''));
  });

  it('pads an odd number of bytes and keeps a comment as INFO text', () => {
    const wav = writeWav(one(0.5), { format: 'pcm24', comment: 'Start low: protect ears and driver.' });
    expect(wav.length % 2).toBe(0);
    expect(wav.readUInt32LE(4)).toBe(wav.length - 8);
    expect(wav.includes('Start low: protect ears and driver.\0')).toBe(true);
    expect(readWav(wav).notes).toEqual([]);
  });

  it('refuses what it cannot write truly', () => {
    expect(() => writeWav(one(0.5, 1.0001), { format: 'pcm24' })).toThrow(refusal('over-full-scale'));
    expect(() => writeWav(one(1e39))).toThrow(refusal('over-full-scale'));
    expect(() => writeWav(one(Number.NaN))).toThrow(refusal('not-a-number'));
    expect(() => writeWav(one())).toThrow(refusal('wav-empty'));
    expect(() => writeWav({ sampleRateHz: 48000, channels: [] })).toThrow(refusal('bad-option'));
    expect(() => writeWav({ sampleRateHz: 44100.5, channels: [[0]] })).toThrow(refusal('bad-option'));
    expect(() => writeWav({ sampleRateHz: 48000, channels: [[0], [0, 0]] })).toThrow(refusal('unequal-columns'));
    expect(() => writeWav(one(0), { format: 'pcm12' as 'pcm16' })).toThrow(refusal('bad-option'));
  });
});
