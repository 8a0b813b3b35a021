import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { readWav } from '../../lib/import/readWav';
import { randomFrom } from '../../lib/rig/random';
import { decodeWav } from '../../lib/wav/decodeWav';
import { type WriteWavOptions, writeWav } from '../../lib/wav/writeWav';
import { hasSox, samplesBySox, sox } from '../sox';

// sox holds samples in 32 bits, so all values that it wrote, and all on its grid, must come out exactly.
describe.skipIf(!hasSox)('WAV files and sox', () => {
  let folder: string;
  beforeAll(() => {
    folder = mkdtempSync(join(tmpdir(), 'wav-'));
  });
  afterAll(() => rmSync(folder, { recursive: true, force: true }));

  const written: [string, (string | number)[]][] = [
    ['8-bit PCM', ['-e', 'unsigned-integer', '-b', 8]],
    ['16-bit PCM', ['-e', 'signed-integer', '-b', 16]],
    ['24-bit PCM', ['-e', 'signed-integer', '-b', 24]],
    ['32-bit PCM', ['-e', 'signed-integer', '-b', 32]],
    ['32-bit float', ['-e', 'floating-point', '-b', 32]],
    ['64-bit float', ['-e', 'floating-point', '-b', 64]],
  ];
  const shapes = [
    { channels: 1, rateHz: 48000 },
    { channels: 2, rateHz: 44100 },
    { channels: 3, rateHz: 11027 },
  ];
  const cases = written.flatMap(([name, how]) => shapes.map((shape) => ({ name, how, ...shape })));

  it.each(cases)('$name with $channels channels at $rateHz Hz is read as sox reads it', (to) => {
    const path = join(folder, 'sox.wav');
    const tones = ['sine', 55, 'whitenoise', 'sine', '20-200'].slice(0, to.channels === 1 ? 2 : to.channels + 1);
    sox([
      '-R',
      '-D',
      '-r',
      to.rateHz,
      '-c',
      to.channels,
      '-n',
      ...to.how,
      path,
      'synth',
      '1001s',
      ...tones,
      'gain',
      -1,
    ]);
    const { recording, notes } = readWav(readFileSync(path));
    expect(notes).toEqual([]);
    expect(recording).toMatchObject({ sampleRateHz: to.rateHz, channels: to.channels, seconds: 1001 / to.rateHz });
    const sound = decodeWav(recording);
    const theirs = samplesBySox(path, to.channels);
    expect(theirs[0].some((sample) => Math.abs(sample) > 0.1)).toBe(true);
    expect(sound.channels.map((column) => Float64Array.from(column))).toEqual(theirs);
  });

  const formats = ['pcm16', 'pcm24', 'pcm32', 'float32', 'float64'] as const;
  const ours = formats.flatMap((format) => shapes.map((shape) => ({ format, ...shape })));
  it.each(ours)('$format of ours with $channels channels at $rateHz Hz is read by sox as by us', (to) => {
    const path = join(folder, 'ours.wav');
    const channels = randomChannels(to.channels, 1001, to.format);
    writeFileSync(path, writeWav({ sampleRateHz: to.rateHz, channels }, { format: to.format, comment: 'Start low.' }));
    expect(String(sox(['--info', '-r', path])).trim()).toBe(String(to.rateHz));
    expect(samplesBySox(path, to.channels)).toEqual(channels);
    const { channels: back } = decodeWav(readFileSync(path));
    expect(back.map((column) => Float64Array.from(column))).toEqual(channels);
  });

  it('A WAV that sox wrote into a pipe, its length unknown, is read to its end, and a note says so', () => {
    const piped = sox(['-D', '-r', 8000, '-c', 1, '-n', '-b', 16, '-t', 'wav', '-', 'synth', '100s', 'sine', 500]);
    const { recording, notes } = readWav(piped);
    expect(recording.seconds).toBe(100 / 8000);
    expect(notes).toHaveLength(1);
    expect(notes[0]).toMatchObject({ code: 'wav-cut-short', values: { heldS: 100 / 8000 } });
  });
});

/** Values that the format and the 32 bits of sox both hold; both ends of the range are among them. */
function randomChannels(count: number, frames: number, format: WriteWavOptions['format']): Float64Array[] {
  const bits = { pcm16: 16, pcm24: 24, pcm32: 32, float32: 24, float64: 32 }[format ?? 'float32'];
  const full = 2 ** (bits - 1);
  const random = randomFrom(['sox', bits]);
  return Array.from({ length: count }, () =>
    Float64Array.from({ length: frames }, (_, i) => {
      if (i < 2) return i === 0 ? -1 : (full - 1) / full;
      return Math.floor(random.between(-full, full)) / full;
    }),
  );
}
