// Start a Node-RED of this package's own, with one of its flows loaded.
import { spawn } from 'node:child_process';
import { copyFileSync, existsSync, mkdirSync, readFileSync, rmSync, symlinkSync } from 'node:fs';
import { createServer } from 'node:net';
import { dirname, join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';

const SIGNALS = ['SIGINT', 'SIGTERM', 'SIGHUP', 'SIGQUIT'];

/**
 * Young memory is collected often, old memory before it has grown by half, and threads share what they take from the
 * system: of a burst of units, 130 in a minute, the peak is 300 MB instead of 800 (of 1,400 of three runs 480 MB), and no
 * unit waits longer for it.
 */
const SPARING = ['--max-semi-space-size=2', '--heap-growing-percent=50'];

export const packageRoot = resolve(dirname(fileURLToPath(import.meta.url)), '..');

/**
 * @param {{name: string, flow: string, env: Record<string, string>, keepEdits?: boolean, onEnd?: () => void}} options
 *   name: folder under .bassloom/ that Node-RED lives in; flow: file to load; env: what the flow reads; onEnd: called
 *   when it has ended. This process then ends as Node-RED did, with its exit code or by its signal.
 */
export async function startNodeRed({ name, flow, env, keepEdits = false, onEnd = () => {} }) {
  if (!existsSync(join(packageRoot, 'dist/nodes'))) {
    throw new Error('The package is not built yet. Run `npm ci` (or `npm run build`) first.');
  }
  const userDir = process.env.BASSLOOM_USERDIR || join(packageRoot, '.bassloom', name);
  installInto(userDir);
  placeFlow(flow, userDir, keepEdits);
  const red = process.env.BASSLOOM_NODE_RED || 'node-red';
  const child = spawn(
    process.execPath,
    [
      ...SPARING,
      join(packageRoot, 'node_modules', red, 'red.js'),
      '--userDir',
      userDir,
      '--settings',
      join(packageRoot, 'scripts/settings.cjs'),
    ],
    // by the channel it notices when this process is gone
    {
      stdio: ['inherit', 'inherit', 'inherit', 'ipc'],
      env: { MALLOC_ARENA_MAX: '2', ...process.env, BASSLOOM_HOME: userDir, ...env },
    },
  );
  let asked = false;
  for (const signal of SIGNALS) {
    process.on(signal, () => {
      asked = true;
      child.kill(signal);
    });
  }
  child.on('error', (problem) => {
    console.error(`Node-RED could not be started: ${problem.message}`);
    onEnd();
    process.exit(1);
  });
  child.on('exit', (code, signal) => {
    onEnd();
    if (!signal) process.exit(code ?? 1);
    if (!asked) console.error(`Node-RED was ended by ${signal}.`);
    // a supervisor sees what ended it
    for (const one of SIGNALS) process.removeAllListeners(one);
    process.kill(process.pid, signal);
    setTimeout(() => process.exit(1), 1000);
  });
}

/** The port asked for in PORT, or the first free one from 1880 on. */
export async function choosePort() {
  if (process.env.PORT) return Number(process.env.PORT);
  for (let port = 1880; port < 1980; port++) if (await isFree(port)) return port;
  throw new Error('No free port between 1880 and 1979; name one with PORT=....');
}

function isFree(port) {
  return new Promise((done) => {
    const probe = createServer();
    probe.once('error', () => done(false));
    probe.listen(port, '127.0.0.1', () => probe.close(() => done(true)));
  });
}

function installInto(userDir) {
  const link = join(userDir, 'node_modules/@bassloom/node-red-bassloom');
  mkdirSync(dirname(link), { recursive: true });
  rmSync(link, { recursive: true, force: true });
  symlinkSync(packageRoot, link, 'junction');
}

/** Lay the flow in place. Edits made in the editor outlive a restart; an untouched flow follows the package. */
function placeFlow(flow, userDir, keepEdits) {
  const inUse = join(userDir, 'flows.json');
  const shipped = join(userDir, 'flows.shipped.json');
  const read = (file) => (existsSync(file) ? readFileSync(file, 'utf8') : '');
  if (keepEdits && existsSync(inUse) && read(inUse) !== read(shipped)) {
    console.log(`Keeping the flow you edited in ${inUse}; delete that file to start afresh.`);
    return;
  }
  copyFileSync(flow, inUse);
  copyFileSync(flow, shipped);
}
