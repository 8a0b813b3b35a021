import { mkdirSync, mkdtempSync, readFileSync, renameSync, rmSync, truncateSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { decodeWav, writeWav } from '../../lib';
import type { Recording } from '../../lib/model/curve';
import { readWithin } from '../../nodes/import/readWithin';
import { note } from '../note';
import { hasSox, sox } from '../sox';
import { nodeFile, pause, until, useNodeRed } from './bench';

const { deploy } = useNodeRed();
const files = [nodeFile('import'), nodeFile('procedure')];
const type = 'bassloom-import';
const text = 'Frequency (Hz);Level (dB)\n20;80\n40;83\n80;80\n';
let folder: string;

beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'bassloom-'));
});
afterEach(() => rmSync(folder, { recursive: true }));
const put = (name: string, content: string | Buffer) => writeFileSync(join(folder, name), content);

/** A tenth of a second; channel n holds n / 8. */
function wav(channels = 1, sampleRateHz = 48000): Buffer {
  const frames = sampleRateHz / 10;
  return writeWav(
    { sampleRateHz, channels: Array.from({ length: channels }, (_, i) => new Float64Array(frames).fill((i + 1) / 8)) },
    { format: 'pcm24' },
  );
}
const firstSamples = (recording: Recording) => decodeWav(recording).channels.map((column) => column[0]);
const tell = (one: Recording) => `${one.kind} ${one.role} ${one.label}`;

describe('a WAV file', () => {
  test('becomes a capture of the unit, setting and drive that its name says, byte for byte', async () => {
    put('sub_flat_step-03.wav', wav());
    const { give, lastStatus } = await deploy(files, { type, source: 'files', files: folder });
    const { sent, caught } = await give({ other: 1 });
    expect(caught).toEqual([]);
    expect(sent[0]).toMatchObject({ topic: 'sub', other: 1, findings: { notes: [] } });
    const [one] = sent[0].payload;
    expect(one).toMatchObject({
      ...{ kind: 'recording', role: 'capture', label: 'sub_flat_step-03', sampleRateHz: 48000, channels: 1 },
      ...{ seconds: 0.1, about: { device: 'sub', setting: 'flat', driveDb: 9 } },
    });
    expect(one.wav.equals(wav())).toBe(true);
    expect(lastStatus()).toMatchObject({ fill: 'green' });
  });

  test('is known by its content, as a Buffer and under any name', async () => {
    const { give } = await deploy(files, { type });
    const { sent } = await give({ payload: wav(1, 44100), filename: 'unit_open_step-2.dat' });
    expect(sent[0].payload[0]).toMatchObject({ kind: 'recording', sampleRateHz: 44100, about: { driveDb: 6 } });
    const nameless = (await give({ payload: wav() })).sent[0];
    expect(nameless.payload[0]).toMatchObject({ kind: 'recording', role: 'capture', about: {} });
  });

  test.runIf(hasSox)('of another program is read, with its name and remarks', async () => {
    const path = join(folder, 'sub_flat_step-1.wav');
    sox(['-n', '-r', 96000, '-b', 16, '--comment', 'made elsewhere', path, 'synth', 0.25, 'sine', 40, 'gain', -6]);
    const { give } = await deploy(files, { type, source: 'files', files: path });
    const [one] = (await give({})).sent[0].payload;
    expect(one).toMatchObject({ sampleRateHz: 96000, seconds: 0.25, about: { driveDb: 3 } });
  });

  test('that was cut off is read as far as it goes, and a note says so', async () => {
    put('sub_flat_step-1.wav', wav().subarray(0, 44 + 3 * 2400));
    const { give } = await deploy(files, { type, source: 'files', files: folder });
    const { payload, findings } = (await give({})).sent[0];
    expect(payload[0].seconds).toBeLessThan(0.06);
    expect(findings.notes).toMatchObject([{ where: { file: 'sub_flat_step-1' } }]);
  });

  test.each([
    ['text', Buffer.from(text)],
    ['nothing', Buffer.alloc(0)],
    ['another sound format', Buffer.from('OggS and so on')],
    ['another RIFF', Buffer.from('RIFF\0\0\0\0AVI LIST')],
  ])('that holds %s is refused by name while the others go on', async (_what, content) => {
    put('sub_flat_step-1.wav', wav());
    put('sub_flat_step-2.wav', content);
    const { give, lastStatus } = await deploy(files, { type, source: 'files', files: folder });
    const { sent, caught } = await give({});
    expect(sent[0].payload).toHaveLength(1);
    expect(caught).toHaveLength(1);
    expect(caught[0]).toMatchObject({ error: { code: 'not-wav' }, filename: join(folder, 'sub_flat_step-2.wav') });
    expect(caught[0].error.message).toContain('sub_flat_step-2');
    expect(lastStatus()).toMatchObject({ fill: 'yellow' });
  });
});

describe('a folder of recordings and texts', () => {
  test('is sorted by what content and names say', async () => {
    put('sub_flat_step-1.wav', wav());
    put('sub_flat_step-2.txt', text);
    put('Noise 1.wav', wav());
    put('noise.txt', text);
    put('stimulus-sweep_5-400Hz.wav', wav(2));
    put('Calibrator 94 dB.wav', wav());
    put('microphone-correction.txt', text);
    const { give } = await deploy(files, { type, source: 'files', files: folder, mustMatch: true });
    const { sent, caught } = await give({});
    expect(caught).toEqual([]);
    expect(sent[0].payload.map(tell)).toEqual([
      'recording capture Calibrator 94 dB',
      'curve correction microphone-correction',
      'recording capture Noise 1',
      'curve noise noise',
      'recording stimulus stimulus-sweep_5-400Hz',
      'recording capture sub_flat_step-1',
      'curve response sub_flat_step-2',
    ]);
    expect(sent[0].topic).toBe('sub');
    for (const place of [0, 2, 4]) expect(sent[0].payload[place].about).toEqual({});
  });

  test('leaves out several names and paths, and refuses names that do not fit', async () => {
    for (const name of ['a_flat_step-1.wav', 'a_flat_step-2.wav', 'test 1.wav', 'odd.wav', 'Noise.wav'])
      put(name, wav());
    const leaveOut = `test*; ${join(folder, 'a_flat_step-2.wav')} ;`;
    const { give } = await deploy(files, { type, source: 'files', files: folder, leaveOut, mustMatch: true });
    const { sent, caught } = await give({});
    expect(sent[0].payload.map(({ label }: Recording) => label)).toEqual(['a_flat_step-1', 'Noise']);
    expect(caught.map(({ error, filename }) => [error.code, filename])).toEqual([
      ['name-mismatch', join(folder, 'odd.wav')],
    ]);
  });

  test('is of the procedure, except for what was played', async () => {
    put('sub_flat_step-2.wav', wav());
    put('stimulus.wav', wav());
    const { give } = await deploy(files, { type, source: 'files', files: folder, procedure: 'p' }, [
      { id: 'p', type: 'bassloom-procedure', name: 'corner, 2 m', distanceM: '2', stepDb: '1.5' },
    ]);
    const [stimulus, capture] = (await give({})).sent[0].payload;
    expect(capture.about).toEqual({
      device: 'sub',
      setting: 'flat',
      driveDb: 3,
      procedure: 'corner, 2 m',
      distanceM: 2,
    });
    expect(stimulus.about).toEqual({});
  });
});

describe('what recordings are', () => {
  test.each(['stimulus', 'programme', 'capture'])('can be said: %s', async (recordingRole) => {
    const { give } = await deploy(files, { type, recordingRole });
    const { sent } = await give({ payload: wav(), filename: 'sub_flat_step-1.wav' });
    expect(sent[0].payload[0].role).toBe(recordingRole);
    const fromMessage = await deploy(files, { type });
    const other = await fromMessage.give({ payload: wav(), filename: 'stimulus.wav', recordingRole });
    expect(other.sent[0].payload[0].role).toBe(recordingRole);
  });

  test('can be noise, which then their labels say; a correction they cannot be', async () => {
    const { give } = await deploy(files, { type });
    const { sent } = await give({ payload: wav(), filename: 'hall.wav', role: 'noise' });
    expect(tell(sent[0].payload[0])).toBe('recording capture noise, hall');
    const { caught } = await give({ payload: wav(), filename: 'mic.wav', role: 'correction' });
    expect(caught[0].error).toMatchObject({ code: 'not-text', cause: { field: 'role' } });
  });
});

describe('several channels', () => {
  const filename = 'sub_flat_step-1.wav';

  test('are kept, and a note says which one is looked at', async () => {
    const { give } = await deploy(files, { type });
    const { payload, findings } = (await give({ payload: wav(3), filename })).sent[0];
    expect(payload).toHaveLength(1);
    expect(firstSamples(payload[0])).toEqual([0.125, 0.25, 0.375]);
    expect(findings.notes).toEqual([note('several-channels', { channels: 3 }, { file: 'sub_flat_step-1' })]);
  });

  test('can be reduced to one', async () => {
    const { give } = await deploy(files, { type, channels: 'choose', channel: '2' });
    const { payload, findings } = (await give({ payload: wav(3), filename })).sent[0];
    expect(payload.map(firstSamples)).toEqual([[0.25]]);
    expect(payload[0].about).toEqual({ device: 'sub', setting: 'flat', driveDb: 3 });
    expect(findings.notes).toEqual([]);
    expect((await give({ payload: wav(), filename })).caught[0].error.code).toBe('no-such-channel');
    // the stimulus of the same folder has one channel, and is left alone
    const stimulus = (await give({ payload: wav(), filename: 'stimulus.wav' })).sent[0].payload;
    expect(stimulus).toHaveLength(1);
  });

  test('can be parted, each with its place', async () => {
    const { give } = await deploy(files, { type, channels: 'split', procedure: 'p' }, [
      { id: 'p', type: 'bassloom-procedure', name: 'two seats', position: 'seats' },
    ]);
    const { payload } = (await give({ payload: wav(2), filename })).sent[0];
    expect(payload.map(firstSamples)).toEqual([[0.125], [0.25]]);
    expect(payload.map(({ about }: Recording) => about.position)).toEqual(['seats, channel 1', 'seats, channel 2']);
    expect(new Set(payload.map(({ label }: Recording) => label)).size).toBe(2);
    const single = (await give({ payload: wav(), filename })).sent[0].payload;
    expect(single[0].about.position).toBe('seats');
    const noise = (await give({ payload: wav(2), filename: 'noise.wav' })).sent[0].payload;
    expect(noise.map(({ label }: Recording) => label)).toEqual(['noise, channel 1', 'noise, channel 2']);
  });
});

describe('sizes', () => {
  test('that cannot be held are refused before anything is read, sound and text by their own limits', async () => {
    // files full of holes, which take no room on the disk
    put('sub_flat_step-1.wav', wav());
    put('sub_flat_step-2.wav', wav());
    truncateSync(join(folder, 'sub_flat_step-2.wav'), 3e9);
    put('sub_flat_step-3.txt', text);
    truncateSync(join(folder, 'sub_flat_step-3.txt'), 3e8);
    const { give } = await deploy(files, { type, source: 'files', files: folder });
    const { sent, caught } = await give({});
    expect(sent[0].payload).toHaveLength(1);
    expect(caught.map(({ error, filename }) => [error.code, filename])).toEqual([
      ['file-too-large', join(folder, 'sub_flat_step-2.wav')],
      ['file-too-large', join(folder, 'sub_flat_step-3.txt')],
    ]);
  });

  test('of recordings are limited together, of texts one by one', async () => {
    const size = wav().length;
    for (const name of ['1.wav', '2.wav', '3.wav', '4.wav']) put(name, wav());
    put('5.txt', text.repeat(1000));
    const megabytes = size / 2 ** 20;
    const lot = { leftMb: 2.5 * megabytes };
    const limits = { mostTextMb: 64, mostSoundMb: 2.5 * megabytes };
    const read = (path: string) => readWithin(path, limits, { lot });
    expect(await read(join(folder, '1.wav'))).toEqual(readFileSync(join(folder, '1.wav')));
    await read(join(folder, '2.wav'));
    await expect(read(join(folder, '3.wav'))).rejects.toMatchObject({ code: 'too-much-at-once' });
    expect(await read(join(folder, '5.txt'))).toHaveLength(text.length * 1000);
    await expect(
      readWithin(join(folder, '4.wav'), { ...limits, mostSoundMb: (size - 1) / 2 ** 20 }),
    ).rejects.toMatchObject({ code: 'file-too-large' });
  });
});

describe('a watched folder', () => {
  const reading = (levelDb: number) => Array.from({ length: 20 }, (_, i) => `${20 + 5 * i} ${levelDb}\n`).join('');
  const watch = async (config: object = {}) => {
    const bench = await deploy(files, {
      type,
      source: 'watch',
      files: folder,
      settleS: '0',
      mustMatch: true,
      ...config,
    });
    const sent = () => bench.seen.sent.flatMap(({ payload = [] }) => payload.map(({ label }: Recording) => label));
    return { ...bench, sent };
  };

  test('is read as it stands and as it changes; what goes is told, a folder in it is a unit', async () => {
    put('sub_flat_step-1.txt', reading(80));
    mkdirSync(join(folder, 'Box'));
    put('Box/deep_step-2.txt', reading(81));
    const { seen, sent, give } = await watch();
    await until(() => sent().length === 2);
    const about = seen.sent.flatMap(({ payload }) =>
      payload.map((one: Recording) => [one.about.device, one.about.driveDb]),
    );
    expect(about).toEqual([
      ['Box', 6],
      ['sub', 3],
    ]);
    expect(seen.sent.flatMap(({ sources }) => sources.map(({ file }: { file: string }) => file))).toEqual([
      'Box/deep_step-2.txt',
      'sub_flat_step-1.txt',
    ]);
    rmSync(join(folder, 'sub_flat_step-1.txt'));
    await give({});
    await until(() => seen.sent.some(({ inbox }) => inbox?.gone[0] === 'sub_flat_step-1.txt'));
    put('sub_flat_step-1.txt', reading(90));
    await until(() => sent().length === 3);
  });

  test('hands many files on in lots, each when the one before is through', async () => {
    for (let i = 0; i < 250; i++) put(`sub${i}_flat_step-1.txt`, reading(80));
    const { seen, sent, give } = await watch({ paced: true });
    await until(() => sent().length > 0);
    for (const count of [100, 200, 250]) {
      await until(() => sent().length === count);
      await pause(50);
      expect(sent()).toHaveLength(count);
      const lots = seen.sent.map(({ lot }) => lot);
      await give({ next: lots.at(-1) });
    }
    expect(seen.sent).toHaveLength(3);
  });

  test('that vanishes is told once, and watched again when it is back', async () => {
    put('sub_flat_step-1.txt', reading(80));
    const { seen, sent, give } = await watch();
    await until(() => sent().length === 1);
    renameSync(folder, `${folder}-away`);
    for (const _time of ['once', 'again']) await give({});
    await until(() => seen.caught.length === 1);
    expect(seen.caught[0].error.code).toBe('no-such-folder');
    mkdirSync(folder);
    put('sub_flat_step-2.txt', reading(81));
    await until(() => sent().length === 2);
    expect(seen.sent.flatMap(({ inbox }) => inbox?.gone ?? [])).toEqual(['sub_flat_step-1.txt']);
    expect(seen.caught).toHaveLength(1);
    rmSync(`${folder}-away`, { recursive: true });
  });
});
