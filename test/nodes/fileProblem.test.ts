import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { mkdir, open, readFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { explainFileProblem } from '../../nodes/fileProblem';
import { nodeFile, response, useNodeRed } from './bench';

let folder: string;
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'bassloom-'));
  writeFileSync(join(folder, 'file'), 'text');
});
afterAll(() => rmSync(folder, { recursive: true }));

test.each<[string, () => Promise<unknown>, string, RegExp]>([
  ['a file that is missing', () => readFile(join(folder, 'none.wav')), 'no-such-file', /none\.wav" is not there/],
  [
    'a file below a file',
    () => open(join(folder, 'file/below.wav'), 'w'),
    'no-such-file',
    /part of its path is a file/,
  ],
  ['a folder instead of a file', () => readFile(folder), 'not-a-file', /Name a file in it/],
  ['a file instead of a folder', () => mkdir(join(folder, 'file')), 'not-a-folder', /Name another folder/],
])('%s is told with a code, the path and what to do', async (_what, act, code, says) => {
  const problem = await act().catch((thrown) => thrown);
  expect(explainFileProblem(problem)).toMatchObject({ code, message: expect.stringMatching(says), cause: problem });
});

test.each([
  ['EACCES', 'no-permission', /Change its permissions/],
  ['EROFS', 'no-permission', /name another place/],
  ['ENOSPC', 'disk-full', /Make room/],
])('%s is told as %s', (code, told, says) => {
  const problem = Object.assign(new Error(code), { code, path: '/a', syscall: 'open' });
  expect(explainFileProblem(problem)).toMatchObject({ code: told, message: expect.stringMatching(says) });
});

test('a problem that names no path is told in whole words', () => {
  for (const [code, says] of [
    ['ENOSPC', /^There is no room left on the disk of the file\. /],
    ['ENOENT', /^The file is not there\. /],
    ['EACCES', /write the file\. /],
  ] as const) {
    const problem = explainFileProblem(Object.assign(new Error(code), { code, syscall: 'write' }));
    expect((problem as Error).message).toMatch(says);
  }
});

test('what is no problem of a file stays as it is', () => {
  const others = [new Error('x'), Object.assign(new Error('x'), { code: 'ENOENT' }), 'text', undefined];
  for (const problem of others) expect(explainFileProblem(problem)).toBe(problem);
});

const { deploy } = useNodeRed();

test.each([
  ['calibration', { calibratorFile: '/nowhere/tone.wav' }],
  ['microphone-correction', { correctionFile: '/nowhere/microphone.txt' }],
  ['maximum-output', { stimulusFile: '/nowhere/bursts.wav' }],
])('the %s node refuses a file that is missing once, and in words', async (name, message) => {
  const { give, lastStatus } = await deploy([nodeFile(name)], { type: `bassloom-${name}` });
  const { sent, caught, completed } = await give({ payload: [response(() => 80)], ...message });
  // an analysis leaves itself out, and the message goes on
  const goesOn = Number(name === 'maximum-output');
  expect([sent.length, caught.length, completed.length]).toEqual([goesOn, 1, 0]);
  expect(caught[0].error).toMatchObject({ code: 'no-such-file', message: expect.stringContaining('/nowhere/') });
  expect(lastStatus()).toMatchObject({ fill: 'red', text: 'no such file' });
});
