import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { decodeWav, recogniseBursts } from '../../lib';
import { nodeFile, useNodeRed } from './bench';

const { deploy, helper } = useNodeRed();
const files = [nodeFile('tone-burst')];
const type = 'bassloom-tone-burst';
const short = { fromHz: '63', toHz: '80', lowestDbfs: '-12', gapSeconds: '0.2', sampleRateHz: '8000' };
let folder: string;

beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'bassloom-'));
});
afterEach(() => rmSync(folder, { recursive: true }));

describe('the tone burst node', () => {
  test('makes the bursts of the dialog, which their samples tell', async () => {
    const { give, lastStatus } = await deploy(files, { type, ...short });
    const { sent, completed } = await give({ payload: 'go', other: 1, topic: 'kept' });
    expect(completed).toHaveLength(1);
    expect(sent[0]).toMatchObject({ other: 1, topic: 'kept', bursts: { count: 6, files: [] } });
    const [stimulus] = sent[0].payload;
    expect(stimulus).toMatchObject({ kind: 'recording', role: 'stimulus', sampleRateHz: 8000, channels: 1 });
    expect(stimulus.steps[0]).toMatchObject({ did: 'make bursts', with: { fromHz: 63, highestDbfs: -6, stepDb: 3 } });
    const found = recogniseBursts(decodeWav(stimulus).channels[0], 8000);
    // 63 and 80 Hz are 10^1.8 and 10^1.9 (IEC 61260-1); -12, -9 and -6 dBFS
    expect(found.map(({ centreHz }) => centreHz)).toEqual([1, 2, 3].flatMap(() => [10 ** 1.8, 10 ** 1.9]));
    expect(found.map(({ levelDbfs }) => Math.round(levelDbfs))).toEqual([-12, -12, -9, -9, -6, -6]);
    // a gap before, and after each burst of 6.5 cycles
    expect(sent[0].bursts.seconds).toBeCloseTo(0.2 + 3 * (6.5 / 10 ** 1.8 + 6.5 / 10 ** 1.9 + 0.4), 2);
    expect(lastStatus()).toMatchObject({ fill: 'green', text: 'status.made' });
  });

  test('takes from the message what the dialog leaves blank', async () => {
    const { give } = await deploy(files, { type, ...short, toHz: '', format: '' });
    const { sent } = await give({ toHz: 63, format: 'pcm16', stepDb: 6 });
    expect(sent[0].payload[0].steps[0].with).toMatchObject({ toHz: 63, stepDb: 6, format: 'pcm16', bursts: 2 });
  });

  test.each([
    ['toHz', { toHz: 5000 }, 'burst-range'],
    ['stepDb', { stepDb: 0 }, 'bad-setting'],
    ['highestDbfs', { highestDbfs: 3 }, 'bad-setting'],
  ])('refuses a wrong %s by its name', async (field, message, code) => {
    const { give, lastStatus } = await deploy(files, { type, ...short, [field]: '' });
    const { sent, caught } = await give(message);
    expect(sent).toEqual([]);
    expect(caught[0].error).toMatchObject({ code, cause: { field } });
    expect(lastStatus().fill).toBe('red');
  });

  test('writes the file whole, leaves the same one alone and never replaces another', async () => {
    const { give } = await deploy(files, { type, ...short, file: folder });
    const { sent } = await give({});
    const [path] = sent[0].bursts.files;
    expect(readdirSync(folder)).toEqual(['stimulus-bursts_63-80Hz_-12to-6dBFS-by-3dB_gap-0.2s_8000Hz_pcm24.wav']);
    expect(readFileSync(path).equals(sent[0].payload[0].wav)).toBe(true);
    expect((await give({})).sent[0].bursts.files).toEqual([path]);
    writeFileSync(path, 'a capture');
    const { caught } = await give({});
    expect(caught[0].error.code).toBe('file-exists');
    expect(readFileSync(path, 'utf8')).toBe('a capture');
  });
});

describe('what the dialog is told', () => {
  test('is the number of bursts and their duration, or what is wrong', async () => {
    await deploy(files, { type });
    const ask = (query: object) => helper.request().get('/bassloom/burst-plan').query(query);
    const { body } = await ask({});
    // 20 to 160 Hz are ten centres, -30 to -6 dBFS nine levels
    expect(body).toMatchObject({ bursts: 90, levels: 9, highestDbfs: -6 });
    const cycles = Array.from({ length: 10 }, (_, i) => 6.5 / 10 ** (1.3 + i / 10)).reduce((a, b) => a + b);
    expect(body.seconds).toBeCloseTo(1 + 9 * (10 + cycles), 1);
    const wrong = await ask({ toHz: '10' });
    expect(wrong.status).toBe(400);
    expect(wrong.body).toMatchObject({ field: 'toHz' });
  });
});
