import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, test } from 'vitest';

let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'bassloom-'));
});
afterEach(() => rmSync(folder, { recursive: true }));

test('a log that is large is laid aside, and one older is kept', async () => {
  const { limitLog } = await import('../../scripts/limitLog.mjs' as string);
  const log = join(folder, 'problems.log');
  expect(limitLog(log, 10)).toBe(false);
  writeFileSync(log, 'short');
  expect(limitLog(log, 10)).toBe(false);
  for (const text of ['the first long one', 'the second long one']) {
    writeFileSync(log, text);
    expect(limitLog(log, 10)).toBe(true);
    expect(existsSync(log)).toBe(false);
    expect(readFileSync(`${log}.1`, 'utf8')).toBe(text);
  }
  expect(readdirSync(folder)).toEqual(['problems.log.1']);
});
