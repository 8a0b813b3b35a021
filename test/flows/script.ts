import { type ChildProcess, spawn } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { until } from '../nodes/bench';
import { freePort } from '../nodes/process';

export const root = resolve(import.meta.dirname, '../..');

export interface RunningScript {
  port: number;
  pid: number;
  /** How it ended, once it has. */
  ended: Promise<{ code: number | null; signal: string | null }>;
  log(): string;
  /** Wait until something was printed, so many times in all; give up after some seconds. */
  said(text: string, times?: number, seconds?: number): Promise<void>;
  stop(): Promise<void>;
}

/** Run what `npm start` or `npm run lab` runs, on one of the two Node-RED versions and in a folder of its own. */
export async function runScript(
  name: 'start' | 'lab',
  nodeRed: string,
  env: Record<string, string> = {},
): Promise<RunningScript> {
  const home = mkdtempSync(join(tmpdir(), 'bassloom-home-'));
  const port = await freePort();
  const child: ChildProcess = spawn(process.execPath, [join(root, `scripts/${name}.mjs`)], {
    env: { ...process.env, PORT: String(port), BASSLOOM_NODE_RED: nodeRed, BASSLOOM_USERDIR: home, ...env },
  });
  let log = '';
  for (const stream of [child.stdout, child.stderr]) {
    stream?.on('data', (text) => {
      log += text;
    });
  }
  const ended = new Promise<{ code: number | null; signal: string | null }>((done) =>
    child.once('exit', (code, signal) => done({ code, signal })),
  );
  const said = async (text: string, times = 1, seconds = 500): Promise<void> => {
    await until(() => log.split(text).length > times || child.exitCode !== null, seconds);
    if (log.split(text).length <= times) throw new Error(`Never said "${text}" ${times} times:\n${log}`);
  };
  return {
    port,
    pid: child.pid as number,
    ended,
    log: () => log,
    said,
    async stop() {
      if (child.exitCode === null && child.signalCode === null) {
        child.kill('SIGTERM');
        await ended;
      }
      rmSync(home, { recursive: true, force: true });
    },
  };
}
