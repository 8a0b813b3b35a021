import { describe, expect, it } from 'vitest';
import { readWav } from '../../lib/import/readWav';
import { BassloomError } from '../../lib/model/errors';
import { type Random, randomFrom } from '../../lib/rig/random';
import { decodeWav } from '../../lib/wav/decodeWav';
import { splitChannels } from '../../lib/wav/splitChannels';
import { writeWav } from '../../lib/wav/writeWav';
import { chunk, ds64, format, int16, riff } from './buildWav';

const CODES = ['not-wav', 'wav-unsupported', 'wav-broken', 'wav-empty', 'wav-not-finite'];
const EXTREMES = [
  0, 1, 2, 3, 7, 8, 0x7f, 0x80, 0xff, 0x7fff, 0x8000, 0xfffe, 0xffff, 0x7fffffff, 0x80000000, 0xffffffff,
];
const IDS = ['RIFF', 'RF64', 'BW64', 'RIFX', 'WAVE', 'fmt ', 'data', 'ds64', 'LIST', 'fact', '\0\0\0\0'];

const samples = Array.from({ length: 700 }, (_, i) => Math.sin(i / 9) * 0.9);
const seeds: Buffer[] = [
  ...(['pcm16', 'pcm24', 'pcm32', 'float32', 'float64'] as const).flatMap((kind) =>
    [1, 2, 5].map((count) =>
      writeWav({ sampleRateHz: 44100, channels: Array(count).fill(samples) }, { format: kind, comment: 'odd' }),
    ),
  ),
  riff([format({ bits: 8 }), chunk('data', Buffer.alloc(999, 100))]),
  riff(
    [ds64(1400), format(), chunk('LIST', Buffer.from('INFOabc')), chunk('data', int16(...samples), 0xffffffff)],
    'RF64',
  ),
  riff([ds64(1400), format({ channels: 2 }), chunk('data', int16(...samples), 0xffffffff)], 'BW64'),
];

/** A copy with one to six things wrong, most of them in the header. */
function mutate(seed: Buffer, random: Random): Buffer {
  let wav: Buffer = Buffer.from(seed);
  const below = (end: number) => Math.floor(random.uniform() * end);
  const place = () => below(Math.min(wav.length, random.uniform() < 0.8 ? 120 : wav.length));
  const wrongs: (() => void)[] = [
    () => wav.set([below(256)], place()),
    () => (wav[place()] ^= 1 << below(8)),
    () => wav.writeUInt32LE(random.pick(EXTREMES), Math.min(place() & ~1, wav.length - 4)),
    () => wav.writeUInt16LE(random.pick(EXTREMES) & 0xffff, Math.min(place() & ~1, wav.length - 2)),
    () => wav.write(random.pick(IDS), Math.min(place() & ~3, wav.length - 4), 'latin1'),
    () => (wav = wav.subarray(0, Math.max(4, random.uniform() < 0.5 ? place() : below(wav.length)))),
    () => (wav = Buffer.concat([wav.subarray(0, place()), wav.subarray(place())])),
    () => {
      const at = place();
      const scrap = wav.subarray(place(), place() + below(40));
      wav = Buffer.concat([wav.subarray(0, at), scrap, wav.subarray(at)]);
    },
  ];
  for (let i = below(6); i >= 0; i--) if (wav.length > 8) random.pick(wrongs)();
  return wav;
}

describe('10,000 damaged WAV files', () => {
  it('are each read or refused with a code, and take no memory by what their headers say', () => {
    const random = randomFrom(['damaged WAV']);
    const outcomes = new Map<string, number>();
    for (let i = 0; i < 10_000; i++) {
      const wav = mutate(seeds[i % seeds.length], random);
      const before = process.memoryUsage().arrayBuffers;
      const outcome = readOrRefuse(wav);
      // the slack is for the pool that small Buffers come from
      const taken = process.memoryUsage().arrayBuffers - before;
      expect(taken, `file ${i} of ${wav.length} bytes`).toBeLessThan(4 * wav.length + 16_384);
      if (outcome === 'read' && i % 10 === 0) expectParts(wav);
      outcomes.set(outcome, (outcomes.get(outcome) ?? 0) + 1);
    }
    // the damage must reach all the ways out, or it tests little
    for (const way of ['read', ...CODES]) expect(outcomes.get(way) ?? 0, way).toBeGreaterThan(20);
  });

  it('empty chunks, and zeros, are passed over in time that grows in step with their size', () => {
    // processor time, the least of several: other programs must not decide; below 2 ms the clock does
    const timeOf = (bytes: number): number => {
      const empty = Buffer.alloc(bytes);
      for (let at = 0; at < empty.length; at += 8) empty.write('junk', at);
      const wavs = [riff([empty, format()]), riff([Buffer.alloc(bytes), format()])];
      const times = Array.from({ length: 3 }, () => {
        const start = process.cpuUsage();
        for (const wav of wavs) expect(() => readWav(wav)).toThrow(BassloomError);
        const { user, system } = process.cpuUsage(start);
        return (user + system) / 1000;
      });
      return Math.max(Math.min(...times), 2);
    };
    // eight times the size; quadratic time would take 64 times
    expect(timeOf(1 << 21) / timeOf(1 << 18)).toBeLessThan(32);
  });
});

function readOrRefuse(wav: Buffer): string {
  try {
    const { recording, notes } = readWav(wav);
    expect(notes.every((note) => note.message.length < 300)).toBe(true);
    const { channels } = decodeWav(recording);
    const bytes = channels.reduce((sum, column) => sum + column.byteLength, 0);
    expect(bytes).toBeLessThanOrEqual(4 * wav.length);
    expect(channels.length).toBe(recording.channels);
    expect(channels[0].length / recording.sampleRateHz).toBe(recording.seconds);
    expect(channels.every((column) => column.length === channels[0].length && isSound(column))).toBe(true);
    return 'read';
  } catch (error) {
    if (!(error instanceof BassloomError)) throw error;
    expect(CODES).toContain(error.code);
    expect(error.message.length).toBeLessThan(300);
    return error.code;
  }
}

function expectParts(wav: Buffer): void {
  const { recording } = readWav(wav);
  const parts = splitChannels(recording).map((part) => decodeWav(part).channels[0]);
  expect(parts).toEqual(decodeWav(recording).channels);
}

function isSound(column: Float32Array | Float64Array): boolean {
  for (const sample of column) if (!Number.isFinite(sample)) return false;
  return true;
}
