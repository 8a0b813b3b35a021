import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, expect, test } from 'vitest';
import type { AnyMessage } from './bench';

const require = createRequire(import.meta.url);
const { tellNames } = require('../../dist/nodes/import/tellNames.js');
const importNode = require('../../dist/nodes/import/import.js');

const folder = mkdtempSync(join(tmpdir(), 'bassloom-'));
afterAll(() => rmSync(folder, { recursive: true }));
const own = ['flat', 'deep'].flatMap((setting) => [0, 3, 6].map((db) => `Box 7 ${setting} +${db}dB.txt`));
for (const name of [...own, 'Box 7 noise.txt', 'correction.txt', 'stimulus.wav', 'calibrator.wav']) {
  writeFileSync(join(folder, name), '');
}
const ask = async (query: object): Promise<AnyMessage> => {
  let answer: AnyMessage = {};
  const response = {
    json: (body: AnyMessage) => {
      answer = { ...answer, ...body };
    },
    status(code: number) {
      answer.status = code;
      return response;
    },
  };
  await tellNames({})({ query }, response);
  return answer;
};

test('names that fit no pattern are told, with a pattern that would match them', async () => {
  const { rows, of, fitting, suggestion } = await ask({ files: folder });
  expect([of, fitting]).toEqual([10, 4]);
  expect(
    rows
      .filter(({ fits }: AnyMessage) => !fits)
      .map(({ name }: AnyMessage) => name)
      .sort(),
  ).toEqual(own.sort());
  expect(suggestion).toBe('{device} {setting} {driveDb}dB');
  const then = await ask({ files: folder, namePattern: suggestion });
  expect([then.of, then.fitting, then.suggestion]).toEqual([10, 10, undefined]);
  expect(then.rows.find(({ name }: AnyMessage) => name === 'Box 7 deep +6dB.txt')).toEqual({
    ...{ name: 'Box 7 deep +6dB.txt', as: 'response', device: 'Box 7', setting: 'deep', driveDb: 6, fits: true },
  });
});

test('noise, corrections, stimuli and calibrators are known by their names, which fit whatever the pattern', async () => {
  const { rows } = await ask({ files: folder });
  const as = Object.fromEntries(rows.map(({ name, as }: AnyMessage) => [name, as]));
  expect(as).toMatchObject({
    ...{ 'Box 7 noise.txt': 'noise', 'correction.txt': 'correction', 'stimulus.wav': 'stimulus' },
    ...{ 'calibrator.wav': 'calibrator', 'Box 7 flat +0dB.txt': 'response' },
  });
});

test('a folder that is not there and a pattern that cannot be are refused by their fields', async () => {
  expect(await ask({ files: join(folder, 'nowhere', '*') })).toMatchObject({ status: 400, field: 'files' });
  expect(await ask({ files: folder, namePattern: '{unit}' })).toMatchObject({ status: 400, field: 'namePattern' });
  expect(await ask({ files: '' })).toMatchObject({ of: 0 });
});

test('only those who may deploy are told names', () => {
  const asked: string[] = [];
  importNode({
    nodes: { registerType() {} },
    auth: { needsPermission: (scope: string) => scope },
    httpAdmin: { get: (path: string, scope: string) => asked.push(`${path} ${scope}`) },
  });
  expect(asked).toEqual(['/bassloom/file-names flows.write', '/bassloom/folders flows.write']);
});
