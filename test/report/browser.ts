/// <reference lib="dom" />
/// <reference lib="dom.iterable" />

import { type Browser, type BrowserContextOptions, chromium, type Page } from 'playwright-core';
import { chromiumPath } from '../chromium';

/** Start the Chromium that the distribution ships. */
export function startBrowser(): Promise<Browser> {
  return chromium.launch({ executablePath: chromiumPath, args: ['--no-sandbox'] });
}

/** Open a page from its text; whatever it asks the network for and whatever it complains about is collected. */
export async function openPage(
  browser: Browser,
  html: string,
  options: BrowserContextOptions = {},
): Promise<{ page: Page; requests: string[]; complaints: string[] }> {
  const context = await browser.newContext(options);
  const page = await context.newPage();
  const requests: string[] = [];
  const complaints: string[] = [];
  page.on('request', (request) => requests.push(request.url()));
  page.on('console', (message) => complaints.push(message.text()));
  page.on('pageerror', (error) => complaints.push(String(error)));
  await page.setContent(html, { waitUntil: 'load' });
  return { page, requests, complaints };
}
