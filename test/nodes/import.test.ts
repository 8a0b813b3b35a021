import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { note } from '../note';
import { nodeFile, useNodeRed } from './bench';

const { deploy } = useNodeRed();
const files = [nodeFile('import'), nodeFile('procedure')];
const type = 'bassloom-import';
const text = (levelDb: number) => `Frequency (Hz);Level (dB)\n20;${levelDb}\n40;${levelDb + 3}\n80;${levelDb}\n`;
let folder: string;

beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'bassloom-'));
});
afterEach(() => rmSync(folder, { recursive: true }));
const put = (name: string, content: string | Buffer) => writeFileSync(join(folder, name), content);

test('text and its file name become a measurement of a unit, a setting and a drive', async () => {
  const { give, lastStatus } = await deploy(files, { type });
  const { sent, completed } = await give({ payload: text(80), filename: '/some/where/sub_flat_step-03.txt', other: 1 });
  expect(completed).toHaveLength(1);
  expect(sent[0]).toMatchObject({ topic: 'sub', other: 1, filename: '/some/where/sub_flat_step-03.txt' });
  expect(sent[0].payload).toHaveLength(1);
  expect(sent[0].payload[0]).toMatchObject({
    kind: 'curve',
    role: 'response',
    label: 'sub_flat_step-03',
    frequencyHz: [20, 40, 80],
    levelDb: [80, 83, 80],
    about: { device: 'sub', setting: 'flat', driveDb: 9 },
  });
  const place = { file: 'sub_flat_step-03' };
  expect(sent[0].findings.notes).toContainEqual(note('delimiter-found', { delimiter: ';' }, place));
  expect(lastStatus()).toMatchObject({ fill: 'green' });
});

test('a guess that may be wrong is shown in yellow', async () => {
  const { give, lastStatus } = await deploy(files, { type });
  const { sent } = await give({ payload: '1,234;80\n1,300;81\n' });
  expect(sent[0].findings.notes).toContainEqual(note('decimal-sign-unsure'));
  expect(lastStatus()).toMatchObject({ fill: 'yellow' });
});

test('a Buffer is read like text', async () => {
  const { give } = await deploy(files, { type });
  const { sent } = await give({ payload: Buffer.from(text(80), 'utf16le'), encoding: 'utf-16le' });
  expect(sent[0].payload[0].levelDb).toEqual([80, 83, 80]);
  expect(sent[0].topic).toBeUndefined();
});

test('pattern, step, format and role can come from the message', async () => {
  const { give } = await deploy(files, { type, namePattern: '', stepDb: '' });
  const { sent } = await give({
    payload: '0,02 | 80,5\n0,04 | 81,5\n',
    filename: 'run 4 of box.txt',
    namePattern: 'run {step} of {device}',
    stepDb: 2,
    delimiter: '|',
    decimal: ',',
    frequencyUnit: 'kHz',
    role: 'response',
    scale: 'spl',
  });
  expect(sent[0].payload[0]).toMatchObject({
    frequencyHz: [20, 40],
    levelDb: [80.5, 81.5],
    scale: 'spl',
    about: { device: 'box', driveDb: 8 },
  });
});

test('settings of the dialog reach the reader', async () => {
  const { give } = await deploy(files, {
    type,
    ...{
      delimiter: 'semicolon',
      decimal: ',',
      frequencyColumn: '2',
      levelColumn: 'out',
      noiseColumn: '4',
      levelUnit: 'linear',
    },
  });
  const { sent } = await give({ payload: 'n;f;out;noise\n1;20,0;10;0,1\n2;40,0;100;0,1\n' });
  expect(sent[0].payload[0]).toMatchObject({ frequencyHz: [20, 40] });
  expect(sent[0].payload[0].levelDb[0]).toBeCloseTo(20, 9);
  expect(sent[0].payload[0].noiseDb[1]).toBeCloseTo(-20, 9);
});

test('a folder is read in the order of its names, noise runs and corrections known by theirs', async () => {
  put('sub_flat_step-10.txt', text(90));
  put('sub_flat_step-2.txt', text(82));
  put('Noise 1.txt', text(30));
  put('microphone-correction.txt', text(0));
  put('.hidden', 'no');
  const { give } = await deploy(files, { type, source: 'files', files: folder });
  const { sent, caught } = await give({ payload: 'go', topic: 'old' });
  expect(caught).toEqual([]);
  const { payload, topic, findings } = sent[0];
  expect(payload.map((curve: { label: string; role: string }) => `${curve.role}: ${curve.label}`)).toEqual([
    'correction: microphone-correction',
    'noise: Noise 1',
    'response: sub_flat_step-2',
    'response: sub_flat_step-10',
  ]);
  expect(topic).toBe('sub');
  expect(payload[1].about).toEqual({});
  expect(findings.notes[0]).toEqual(note('delimiter-found', {}, { file: 'microphone-correction' }));
});

test('the last part of a path may be a pattern', async () => {
  put('a_flat_step-1.txt', text(80));
  put('a_flat_step-2.csv', text(80));
  put('b_flat_step-1.txt', text(80));
  const { give } = await deploy(files, { type, source: 'files' });
  const read = async (path: string) => (await give({ files: join(folder, path) })).sent[0].payload.length;
  expect(await read('a_*')).toBe(2);
  expect(await read('?_flat_step-1.txt')).toBe(2);
  expect(await read('a_flat_step-1.txt')).toBe(1);
});

test('bad files of a folder reach Catch once each with their names, the others go on', async () => {
  put('sub_flat_step-1.txt', text(80));
  put('empty.txt', '');
  put('page.html', '<!doctype html><html><body>no</body></html>');
  const { give, lastStatus } = await deploy(files, { type, source: 'files', files: folder });
  const { sent, caught, completed } = await give({ keep: 1 });
  expect(sent[0].payload).toHaveLength(1);
  expect(completed).toHaveLength(1);
  expect(caught.map(({ error, filename, keep }) => [error.code, filename, keep])).toEqual([
    ['empty', join(folder, 'empty.txt'), 1],
    ['html', join(folder, 'page.html'), 1],
  ]);
  expect(lastStatus()).toMatchObject({ fill: 'yellow' });
});

test('files can be left out, by name or by path, and refused for their names', async () => {
  for (const name of ['sub_flat_step-1.txt', 'odd.txt', 'noise.txt', 'mic.txt', 'readme.md']) put(name, text(80));
  const { give } = await deploy(files, { type, source: 'files', leaveOut: '*.md', mustMatch: true });
  const { sent, caught } = await give({ files: folder });
  expect(sent[0].payload.map((curve: { label: string }) => curve.label)).toEqual(['noise', 'sub_flat_step-1']);
  expect(caught.map(({ error, filename }) => [error.code, filename])).toEqual([
    ['name-mismatch', join(folder, 'mic.txt')],
    ['name-mismatch', join(folder, 'odd.txt')],
  ]);
  const other = await deploy(files, { type, source: 'files', leaveOut: join(folder, 'mic.txt'), files: '' });
  expect((await other.give({ files: folder })).sent[0].payload).toHaveLength(4);
  const alone = await other.give({ files: join(folder, 'mic.txt') });
  expect([alone.sent.length, alone.caught.length, alone.completed.length]).toEqual([0, 0, 1]);
});

test('where no file can be read each reaches Catch once and nothing is sent', async () => {
  put('a.txt', '');
  put('b.txt', 'Hz dB\n');
  const { give, lastStatus } = await deploy(files, { type, source: 'files', files: folder });
  const { sent, caught, completed } = await give({});
  expect([sent.length, completed.length]).toEqual([0, 1]);
  expect(caught.map(({ error, filename }) => [error.code, filename])).toEqual([
    ['empty', join(folder, 'a.txt')],
    ['header-only', join(folder, 'b.txt')],
  ]);
  expect(lastStatus()).toMatchObject({ fill: 'red' });
});

test.each([
  ['a number', { payload: 4 }, 'not-text', 'payload'],
  ['nothing', {}, 'not-text', 'payload'],
  ['a level that cannot be', { payload: '20;80\n40;9000\n' }, 'level-out-of-range', undefined],
])('a payload of %s is refused with its code', async (_what, message, code, field) => {
  const { give } = await deploy(files, { type });
  const { sent, caught, completed } = await give(message);
  expect([sent.length, caught.length, completed.length]).toEqual([0, 1, 0]);
  expect(caught[0].error.code).toBe(code);
  if (field) expect(caught[0].error.cause.field).toBe(field);
});

test.each([
  ['missing', 'no-such-file'],
  ['', 'no-files'],
])('a folder %s without files is refused', async (name, code) => {
  const { give } = await deploy(files, { type, source: 'files', files: join(folder, name) });
  expect((await give({})).caught[0].error.code).toBe(code);
});

test('a line that is wrong is told to Catch', async () => {
  const { give } = await deploy(files, { type });
  const { caught } = await give({ payload: 'Hz;dB\n20;80\n40;9000\n' });
  expect(caught[0].error.cause).toMatchObject({ line: 3 });
});

test('a procedure is stamped into every curve and handed on', async () => {
  const { give } = await deploy(files, { type, procedure: 'p' }, [
    { id: 'p', type: 'bassloom-procedure', name: 'corner, 2 m', position: 'corner', distanceM: '2', stepDb: '1.5' },
  ]);
  const { sent } = await give({ payload: text(80), filename: 'sub_flat_step-2.txt' });
  expect(sent[0].payload[0].about).toEqual({
    device: 'sub',
    setting: 'flat',
    driveDb: 3,
    procedure: 'corner, 2 m',
    position: 'corner',
    distanceM: 2,
  });
  expect(sent[0].procedure).toMatchObject({ name: 'corner, 2 m', stepDb: 1.5 });
});

test('a file name may hold what the procedure says otherwise', async () => {
  const { give } = await deploy(files, { type, procedure: 'p', namePattern: '{device}_{position}' }, [
    { id: 'p', type: 'bassloom-procedure', name: 'corner', position: 'corner' },
  ]);
  const { sent } = await give({ payload: text(80), filename: 'sub_middle.txt' });
  expect(sent[0].payload[0].about).toMatchObject({ position: 'middle', procedure: 'corner' });
});

test('bad settings are shown on deploy', async () => {
  const { lastStatus } = await deploy(files, { type, stepDb: '-3' });
  expect(lastStatus()).toMatchObject({ fill: 'red', text: expect.stringContaining('stepDb') });
});
