import { configDefaults, defineConfig } from 'vitest/config';
import { chromiumPath } from './test/chromium';

// Tests that look at pages are left out, and that is said, where there is no Chromium; never on a build machine.
const needsBrowser = 'test/**/*.browser.test.ts';
const isLeftOut = !chromiumPath && !process.env.CI;
if (isLeftOut) console.warn(`No Chromium found, so ${needsBrowser} are left out; install it or set BASSLOOM_CHROMIUM.`);

export default defineConfig({
  test: {
    include: ['test/**/*.test.ts'],
    exclude: [...configDefaults.exclude, ...(isLeftOut ? [needsBrowser] : [])],
    testTimeout: 60_000,
    hookTimeout: 60_000,
  },
});
