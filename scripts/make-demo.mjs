// Write the bundled demo session anew from its virtual bench: `npm run build && node scripts/make-demo.mjs`.
// The files are the same to the byte every time; test/rig/demoSession.test.ts keeps them and the bench together.
// Another compiled library can be named as the first argument.
import { mkdirSync, rmSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';

const root = join(dirname(fileURLToPath(import.meta.url)), '..');
const library = resolve(process.argv[2] ?? join(root, 'dist/lib/index.js'));
const { demoRig, sessionFiles, sessionTruth } = createRequire(import.meta.url)(library);

const folder = join(root, 'flows/demo/session');
rmSync(folder, { recursive: true, force: true });
mkdirSync(folder, { recursive: true });
const files = sessionFiles(demoRig());
for (const { name, text } of files) writeFileSync(join(folder, name), text);

const truth = { rig: demoRig(), truth: sessionTruth(demoRig()) };
writeFileSync(join(root, 'test/reference/demoTruth.json'), `${JSON.stringify(truth, rounded, 1)}\n`);
console.log(`${files.length} files in flows/demo/session, the truth behind them in test/reference/demoTruth.json`);

// a millionth of a decibel is no news, and keeps the file the same on other machines
function rounded(_key, value) {
  return typeof value === 'number' ? Number(value.toFixed(6)) : value;
}
