// Start of Node-RED with this package installed, against one without it: medians over alternating runs, from the start
// of the process to "Started flows". Target: a ratio of at most 1.15. `npm run build` first; then
//   node bench/start.mjs [runs]
import { spawn } from 'node:child_process';
import { mkdirSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

const root = join(dirname(fileURLToPath(import.meta.url)), '..');
const runs = Number(process.argv[2] ?? 11);
const median = (values) => values.sort((a, b) => a - b)[values.length >> 1];

function home(isInstalled) {
  const folder = mkdtempSync(join(tmpdir(), 'bassloom-bench-'));
  const scope = join(folder, 'node_modules/@bassloom');
  mkdirSync(scope, { recursive: true });
  if (isInstalled) symlinkSync(root, join(scope, 'node-red-bassloom'), 'junction');
  writeFileSync(join(folder, 'flows.json'), '[]');
  writeFileSync(
    join(folder, 'settings.js'),
    `module.exports = ${JSON.stringify({ uiHost: '127.0.0.1', uiPort: 0, flowFile: 'flows.json', telemetry: { enabled: false } })};`,
  );
  return folder;
}

function start(folder) {
  return new Promise((done, failed) => {
    const begun = performance.now();
    const child = spawn(process.execPath, [join(root, 'node_modules/node-red/red.js'), '--userDir', folder]);
    let log = '';
    child.stdout.on('data', (text) => {
      log += text;
      if (!log.includes('Started flows')) return;
      const took = performance.now() - begun;
      child.once('exit', () => done(took));
      child.kill('SIGKILL');
      log = '';
    });
    child.once('exit', (code) => code && failed(new Error(`Node-RED ended:\n${log}`)));
  });
}

const homes = [home(false), home(true)];
try {
  const times = homes.map(() => []);
  for (const folder of homes) await start(folder); // once each, so that both find their files in the cache
  for (let run = 0; run < runs; run++) {
    for (const [i, folder] of homes.entries()) times[i].push(await start(folder));
  }
  const [without, withIt] = times.map(median);
  console.log(
    `without ${without.toFixed(0)} ms, with ${withIt.toFixed(0)} ms, ratio ${(withIt / without).toFixed(3)} (target <= 1.15)`,
  );
} finally {
  for (const folder of homes) rmSync(folder, { recursive: true, force: true });
}
