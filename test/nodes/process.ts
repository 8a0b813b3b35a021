import { type ChildProcess, spawn } from 'node:child_process';
import { mkdirSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { until } from './bench';

const root = resolve(import.meta.dirname, '../..');

export interface RunningNodeRed {
  url: string;
  userDir: string;
  log(): string;
  /** End it as a power cut would. */
  kill(): Promise<void>;
  restart(): Promise<void>;
  /** End it and remove what it wrote. */
  remove(): Promise<void>;
}

/** Start a real Node-RED, with this package installed, on a port of its own. */
export async function startNodeRed(version: string, flow: unknown[], settings: object = {}): Promise<RunningNodeRed> {
  const userDir = mkdtempSync(join(tmpdir(), 'bassloom-red-'));
  const scope = join(userDir, 'node_modules/@bassloom');
  mkdirSync(scope, { recursive: true });
  symlinkSync(root, join(scope, 'node-red-bassloom'), 'junction');
  writeFileSync(join(userDir, 'flows.json'), JSON.stringify(flow));
  const port = await freePort();
  const all = { uiHost: '127.0.0.1', uiPort: port, flowFile: 'flows.json', credentialSecret: false, ...settings };
  writeFileSync(join(userDir, 'settings.js'), `module.exports = ${JSON.stringify(all)};`);
  let child: ChildProcess;
  let log = '';
  const start = async () => {
    log = '';
    child = spawn(process.execPath, [join(root, 'node_modules', version, 'red.js'), '--userDir', userDir], {
      cwd: userDir,
    });
    child.stdout?.on('data', (text) => {
      log += text;
    });
    child.stderr?.on('data', (text) => {
      log += text;
    });
    await until(() => log.includes('Started flows') || child.exitCode !== null, 500);
    if (child.exitCode !== null) throw new Error(`Node-RED ended:\n${log}`);
  };
  const kill = async () => {
    if (child.exitCode !== null || child.signalCode !== null) return;
    const ended = new Promise((done) => child.once('exit', done));
    child.kill('SIGKILL');
    await ended;
  };
  await start();
  return {
    url: `http://127.0.0.1:${port}`,
    userDir,
    log: () => log,
    kill,
    restart: async () => {
      await kill();
      await start();
    },
    remove: async () => {
      await kill();
      rmSync(userDir, { recursive: true, force: true });
    },
  };
}

/** Below those that systems give to connections (32,768 and up): one of these is not taken before it is listened on. */
const PORTS = { from: 10_240, to: 32_000 };

/** A port that nobody listens on. */
export function freePort(): Promise<number> {
  const port = PORTS.from + Math.floor(Math.random() * (PORTS.to - PORTS.from));
  return new Promise((found, failed) => {
    const server = createServer();
    server.once('error', (problem: NodeJS.ErrnoException) => {
      if (problem.code === 'EADDRINUSE') freePort().then(found, failed);
      else failed(problem);
    });
    server.listen(port, '127.0.0.1', () => server.close(() => found(port)));
  });
}
