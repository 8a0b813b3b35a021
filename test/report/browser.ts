/// <reference lib="dom" />
/// <reference lib="dom.iterable" />

import { type Browser, type BrowserContextOptions, chromium, type Page } from 'playwright-core';
import { inject } from 'vitest';

/** Only to end what hangs, ms. */
const PATIENCE_MS = 600_000;

/** Reach the Chromium that all tests share; to close it closes what was opened here. */
export function startBrowser(): Promise<Browser> {
  return chromium.connect(inject('chromium'), { timeout: PATIENCE_MS });
}

/** A page of its own that waits as long as a busy machine needs. */
export async function newPage(browser: Browser, options: BrowserContextOptions = {}): Promise<Page> {
  const context = await browser.newContext(options);
  context.setDefaultTimeout(PATIENCE_MS);
  return context.newPage();
}

const pages = new WeakMap<Browser, Page>();

/**
 * Open a page from its text; whatever it asks the network for and whatever it complains about is collected. Each opening
 * takes the place of the last: a window of its own costs as much as a report.
 */
export async function openPage(
  browser: Browser,
  html: string,
  { width, height }: { width: number; height: number } = { width: 1280, height: 720 },
): Promise<{ page: Page; requests: string[]; complaints: string[] }> {
  const page = pages.get(browser) ?? (await newPage(browser));
  pages.set(browser, page);
  for (const event of ['request', 'console', 'pageerror'] as const) page.removeAllListeners(event);
  await page.goto('about:blank');
  await page.setViewportSize({ width, height });
  const requests: string[] = [];
  const complaints: string[] = [];
  page.on('request', (request) => requests.push(request.url()));
  page.on('console', (message) => complaints.push(message.text()));
  page.on('pageerror', (error) => complaints.push(String(error)));
  await page.setContent(html, { waitUntil: 'load' });
  return { page, requests, complaints };
}
