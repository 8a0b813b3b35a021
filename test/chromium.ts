import { existsSync } from 'node:fs';

/** Where Chromium, or a browser made from it, is found; BASSLOOM_CHROMIUM names another place. */
export const chromiumPath = [
  process.env.BASSLOOM_CHROMIUM,
  '/usr/bin/chromium',
  '/usr/bin/chromium-browser',
  '/usr/bin/google-chrome',
  '/Applications/Chromium.app/Contents/MacOS/Chromium',
  '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome',
].find((path) => path !== undefined && existsSync(path));
