import { globSync } from 'node:fs';
import { basename, resolve } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { startBrowser } from '../report/browser';
import { closeDialog, lookAtDialog, openDialog, openEditor, startWithAll, types } from './editorPage';
import type { RunningNodeRed } from './process';

const folders = globSync('nodes/*/locales/*', { cwd: resolve(import.meta.dirname, '../..') });
const languages = [...new Set(folders.map((folder) => basename(folder)))].filter((one) => one !== 'en-US');
let red: RunningNodeRed;
let browser: Browser;

beforeAll(async () => {
  red = await startWithAll('node-red');
  browser = await startBrowser();
});
afterAll(async () => {
  await browser?.close();
  await red?.remove();
});

describe.each(languages)('the editor in the language %s', (language) => {
  let page: Page;
  const problems: string[] = [];

  beforeAll(async () => {
    page = await openEditor(browser, red.url, { locale: language });
    page.on('pageerror', (problem) => problems.push(problem.stack ?? problem.message));
  });

  test.each(types)('shows the dialog of %s with all its words, labels and nothing cut off', async (type) => {
    await openDialog(page, type);
    const found = await lookAtDialog(page);
    await closeDialog(page);
    expect(found).toMatchObject({ keys: [], cut: [], wide: [], long: [], unnamed: [], empty: [], blank: [] });
    expect(problems).toEqual([]);
  });
});
