import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, expect, test } from 'vitest';

const require = createRequire(import.meta.url);
const { tellFolders } = require('../../dist/nodes/import/tellFolders.js');

const top = mkdtempSync(join(tmpdir(), 'bassloom-'));
afterAll(() => rmSync(top, { recursive: true }));
for (const name of ['Unit b', 'unit a', 'other', '.hidden', 'unit a/inner']) mkdirSync(join(top, name));
writeFileSync(join(top, 'unit c'), '');

const ask = async (files?: string) => {
  let answer: { folders: string[] } = { folders: [] };
  const response = {
    json: (body: typeof answer) => {
      answer = body;
    },
  };
  await tellFolders({ settings: { fileWorkingDirectory: top } })({ query: { files } }, response);
  return answer.folders;
};

test('folders are offered as the path was typed, whatever the case, and nothing that is none', async () => {
  expect(await ask(`${top}/u`)).toEqual([`${top}/unit a`, `${top}/Unit b`]);
  expect(await ask(`${top}/`)).toEqual([`${top}/other`, `${top}/unit a`, `${top}/Unit b`]);
  expect(await ask('unit a/')).toEqual(['unit a/inner']);
  expect(await ask()).toEqual(['other', 'unit a', 'Unit b']);
});

// the third one is a variable of the environment
const NO_FOLDER = ['nowhere/at all', '*.txt', `$${'{HOME}'}/`, '\0', 'unit c/'];
test.each(NO_FOLDER)('nothing is offered for %j', async (typed) => {
  expect(await ask(typed)).toEqual([]);
});
