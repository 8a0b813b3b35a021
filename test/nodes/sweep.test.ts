import {
  existsSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  utimesSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { decodeWav } from '../../lib';
import { hasSox, samplesBySox } from '../sox';
import { nodeFile, useNodeRed } from './bench';

const { deploy, helper } = useNodeRed();
const files = [nodeFile('sweep')];
const type = 'bassloom-sweep';
let folder: string;

beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'bassloom-'));
});
afterEach(() => rmSync(folder, { recursive: true }));

/** Peak of samples, dB re full scale. */
const peakDb = (samples: ArrayLike<number>) =>
  20 * Math.log10(Array.from(samples).reduce((most, sample) => Math.max(most, Math.abs(sample)), 0));

describe('the sweep node', () => {
  test('makes the sweep of the dialog and its muted twin', async () => {
    const { give, lastStatus } = await deploy(files, { type, muted: true });
    const { sent, completed } = await give({ payload: 'go', other: 1, topic: 'kept' });
    expect(completed).toHaveLength(1);
    expect(sent[0]).toMatchObject({ other: 1, topic: 'kept', sweep: { files: [] } });
    const [sweep, twin] = sent[0].payload;
    expect(sent[0].payload).toHaveLength(2);
    for (const one of [sweep, twin]) {
      expect(one).toMatchObject({ kind: 'recording', role: 'stimulus', sampleRateHz: 48000, channels: 1 });
    }
    expect(sweep.steps[0]).toMatchObject({ did: 'make sweep', with: { startHz: 5, endHz: 400, levelDbfs: -15 } });
    expect(twin.steps[0].did).toBe('make muted sweep');
    // L = round(f1 T / ln(f2/f1)) / f1 = round(5 * 20 / ln 80) / 5 = 4.6 s; it lasts L ln 80 = 20.157 s (Novak et al.,
    // JAES 2015), between 1 s and 3 s of silence.
    expect(sweep.seconds).toBeCloseTo(1 + 4.6 * Math.log(80) + 3, 4);
    expect(twin.seconds).toBe(sweep.seconds);
    // 0 dBFS is a full-scale sine (AES17), so a sine of -15 dBFS peaks at -15 dB.
    expect(peakDb(decodeWav(sweep).channels[0])).toBeCloseTo(-15, 3);
    expect(peakDb(decodeWav(twin).channels[0])).toBe(Number.NEGATIVE_INFINITY);
    expect(lastStatus()).toMatchObject({ fill: 'green', text: 'status.made' });
  });

  test('takes from the message what the dialog leaves blank, and leaves the twin out where it is not wanted', async () => {
    const { give } = await deploy(files, { type, muted: false, startHz: '', seconds: '2', format: '' });
    const { sent } = await give({ startHz: 10, endHz: 200, levelDbfs: -20, sampleRateHz: 44100, format: 'float32' });
    expect(sent[0].payload).toHaveLength(1);
    const [{ sampleRateHz, steps, wav }] = sent[0].payload;
    expect(sampleRateHz).toBe(44100);
    expect(steps[0].with).toMatchObject({ startHz: 10, endHz: 200, seconds: 2, levelDbfs: -20, format: 'float32' });
    expect(peakDb(decodeWav(wav).channels[0])).toBeCloseTo(-20, 4);
  });

  test.each([
    ['endHz', { endHz: 30000 }, 'sweep-range'],
    ['startHz', { startHz: -5 }, 'bad-setting'],
    ['levelDbfs', { levelDbfs: 3 }, 'bad-setting'],
    ['seconds', { seconds: 0.05 }, 'sweep-time'],
  ])('refuses a wrong %s by its name', async (field, message, code) => {
    const { give, lastStatus } = await deploy(files, { type });
    const { sent, caught } = await give(message);
    expect(sent).toEqual([]);
    expect(caught[0].error).toMatchObject({ code, cause: { field } });
    expect(lastStatus().fill).toBe('red');
  });
});

describe('files of sweeps', () => {
  const short = { startHz: '20', endHz: '200', seconds: '1', muted: true };

  test('are written into a folder under names that tell what they are, and are what the payload holds', async () => {
    const { give, lastStatus } = await deploy(files, { type, ...short, file: join(folder, 'new', 'sounds') });
    const [{ payload, sweep }] = (await give({})).sent;
    const names = [
      'stimulus-sweep_20-200Hz_1s_-15dBFS_48000Hz_pcm24.wav',
      'stimulus-muted_20-200Hz_1s_48000Hz_pcm24.wav',
    ];
    expect(sweep.files).toEqual(names.map((name) => join(folder, 'new/sounds', name)));
    expect(readdirSync(join(folder, 'new/sounds')).sort()).toEqual([...names].sort());
    for (const [i, path] of sweep.files.entries()) expect(readFileSync(path).equals(payload[i].wav)).toBe(true);
    expect(lastStatus()).toMatchObject({ fill: 'green', text: 'status.written' });
  });

  test.runIf(hasSox)('are read by another program as long and as loud as they say', async () => {
    const { give } = await deploy(files, { type, ...short, file: join(folder, 'sweep.wav') });
    const [{ sweep }] = (await give({})).sent;
    expect(sweep.files).toEqual([join(folder, 'sweep.wav'), join(folder, 'sweep-muted.wav')]);
    const [played, muted] = sweep.files.map((path: string) => samplesBySox(path, 1)[0]);
    expect([played.length, muted.length]).toEqual([sweep.seconds * 48000, sweep.seconds * 48000]);
    expect(peakDb(played)).toBeCloseTo(-15, 3);
    expect(peakDb(muted)).toBe(Number.NEGATIVE_INFINITY);
  });

  test('that are there already are left alone where they are the same, and never replaced where they are not', async () => {
    const { give } = await deploy(files, { type, ...short, muted: false, file: join(folder, 'sweep.wav') });
    await give({});
    const path = join(folder, 'sweep.wav');
    const long = new Date('2001-02-03T04:05:06Z');
    utimesSync(path, long, long);
    expect((await give({})).sent).toHaveLength(1);
    expect(statSync(path).mtime).toEqual(long);
    writeFileSync(path, 'somebody’s own');
    const { sent, caught } = await give({});
    expect(sent).toEqual([]);
    expect(caught[0].error).toMatchObject({ code: 'file-exists', cause: { field: 'file' } });
    expect(readFileSync(path, 'utf8')).toBe('somebody’s own');
  });

  test('leave nothing half written where the folder cannot be had', async () => {
    writeFileSync(join(folder, 'in the way'), 'a file');
    const { give } = await deploy(files, { type, ...short, file: join(folder, 'in the way', 'sweep.wav') });
    expect((await give({})).caught).toHaveLength(1);
    expect(existsSync(join(folder, 'sweep.wav'))).toBe(false);
    expect(readdirSync(folder)).toEqual(['in the way']);
  });
});

describe('what the dialog of a sweep is told', () => {
  const ask = (query: Record<string, string>) => helper.request().get('/bassloom/sweep-plan').query(query);

  test('is the true duration, of the sweep and of its file, with blanks as the dialog shows them', async () => {
    await deploy(files, { type });
    const { body } = await ask({ startHz: '', endHz: '', seconds: '', levelDba: '' }).expect(200);
    expect(body.sweepSeconds).toBeCloseTo(4.6 * Math.log(80), 9);
    expect(body.seconds).toBeCloseTo(4 + 4.6 * Math.log(80), 4);
    expect(body).toMatchObject({ leadInSeconds: 1, tailSeconds: 3, permittedSeconds: null, permittedRuns: null });
  });

  // NIOSH 98-126, table 1-1: 85 dBA 8 h, 94 dBA 1 h, 100 dBA 15 min; none above 140 dBA. From memory.
  test.each([
    ['85', 28800],
    ['94', 3600],
    ['100', 900],
    ['141', 0],
  ])('is how long ears may stay at %s dBA', async (levelDba, seconds) => {
    await deploy(files, { type });
    const { body } = await ask({ levelDba }).expect(200);
    expect(body.permittedSeconds).toBeCloseTo(seconds, 6);
    expect(body.permittedRuns).toBe(Math.floor(seconds / body.seconds));
  });

  test.each([
    ['endHz', { startHz: '50', endHz: '40' }],
    ['endHz', { sampleRateHz: '8000', endHz: '4000' }],
    ['startHz', { startHz: '0' }],
    ['seconds', { seconds: '0,01' }],
    ['sampleRateHz', { sampleRateHz: '44100.5' }],
    ['levelDba', { levelDba: 'loud' }],
  ])('is which field is wrong: %s', async (field, query) => {
    await deploy(files, { type });
    const { body } = await ask(query as Record<string, string>).expect(400);
    expect(body.field).toBe(field);
    expect(body.message.length).toBeGreaterThan(20);
  });
});
