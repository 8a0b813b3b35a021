import { chromium } from 'playwright-core';
import type { TestProject } from 'vitest/node';
import { chromiumPath } from './chromium';

declare module 'vitest' {
  interface ProvidedContext {
    /** Where the browser that all tests share is reached. */
    chromium: string;
  }
}

/** Start the Chromium that the distribution ships, once for all files that look at pages. */
export default async function setup(project: TestProject): Promise<() => Promise<void>> {
  const server = await chromium.launchServer({
    executablePath: chromiumPath,
    // drawing by a processor that plays a graphics card costs several times as much as drawing by the processor
    args: ['--no-sandbox', '--disable-gpu', '--no-first-run', '--disable-background-networking', '--disable-sync'],
  });
  project.provide('chromium', server.wsEndpoint());
  return () => server.close();
}
