import { configDefaults, defineConfig } from 'vitest/config';
import { chromiumPath } from './test/chromium';

// Tests that look at pages are left out, and that is said, where there is no Chromium; never on a build machine.
const needsBrowser = 'test/**/*.browser.test.ts';
const isLeftOut = !chromiumPath && !process.env.CI;
if (isLeftOut) console.warn(`No Chromium found, so ${needsBrowser} are left out; install it or set BASSLOOM_CHROMIUM.`);

const exclude = [...configDefaults.exclude, ...(isLeftOut ? [needsBrowser] : [])];
// Tests of the numeric core keep nothing from file to file, so that they may share a worker and what it has loaded.
const core = 'test/{analysis,import,model,response,rig,room,signal,truth,wav}/**/*.test.ts';
// only to end what hangs: a busy machine must not decide
const shared = { testTimeout: 600_000, hookTimeout: 600_000 };

export default defineConfig({
  test: {
    // otherwise one core is left idle, of two
    maxWorkers: '100%',
    projects: [
      { test: { ...shared, name: 'core', include: [core], exclude, isolate: false } },
      { test: { ...shared, name: 'house', include: ['test/**/*.test.ts'], exclude: [...exclude, core] } },
    ],
  },
});
