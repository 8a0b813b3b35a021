import { existsSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { request } from 'node:http';
import { createServer } from 'node:net';
import { hostname, tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { until } from '../nodes/bench';
import { type RunningScript, runScript } from './script';

let folder: string;
let running: RunningScript[];
const at = (...parts: string[]) => join(folder, ...parts);
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'bassloom-lab-'));
  for (const name of ['inbox', 'outbox']) mkdirSync(at(name));
  running = [];
});
afterEach(async () => {
  await Promise.all(running.map((one) => one.stop()));
  rmSync(folder, { recursive: true, force: true });
});
const lab = async (env: Record<string, string> = {}) => {
  const script = await runScript('lab', 'node-red', {
    BASSLOOM_INBOX: at('inbox'),
    BASSLOOM_OUTBOX: at('outbox'),
    ...env,
  });
  running.push(script);
  return script;
};
/** The Node-RED that a script has started. */
const childOf = ({ pid }: RunningScript) => {
  const [child] = readFileSync(`/proc/${pid}/task/${pid}/children`, 'utf8').trim().split(' ').map(Number);
  return child;
};
const isAlive = (pid: number) => {
  try {
    process.kill(pid, 0);
    return !/^State:\s+Z/m.test(readFileSync(`/proc/${pid}/status`, 'utf8'));
  } catch {
    return false;
  }
};
const LOCK = '.bassloom-lab.lock';

// children and their ends are looked up in /proc
describe.runIf(existsSync('/proc/self/task'))('the lab as a process', () => {
  it('ends as Node-RED does, by code or by signal, and lets go of its folder', async () => {
    const script = await lab();
    await script.said('Started flows');
    expect(existsSync(at('outbox', LOCK))).toBe(true);
    process.kill(childOf(script), 'SIGKILL');
    expect(await script.ended).toEqual({ code: null, signal: 'SIGKILL' });
    expect(existsSync(at('outbox', LOCK))).toBe(false);

    const taken = createServer().listen(0, '127.0.0.1');
    await until(() => taken.listening);
    const blocked = await lab({ PORT: String((taken.address() as { port: number }).port) });
    const { code } = await blocked.ended;
    expect(code).not.toBe(0);
    taken.close();

    const asked = await lab();
    await asked.said('Started flows');
    process.kill(asked.pid, 'SIGTERM');
    expect(await asked.ended).toEqual({ code: 0, signal: null });
  });

  it('takes Node-RED along when it is killed, refuses a folder that another lab has, and takes over from one that is gone', async () => {
    const first = await lab();
    await first.said('Started flows');
    const child = childOf(first);
    const second = await lab();
    expect(await second.ended).toEqual({ code: 1, signal: null });
    expect(second.log()).toContain(`process ${first.pid}`);
    expect(isAlive(first.pid)).toBe(true);

    process.kill(first.pid, 'SIGKILL');
    await until(() => !isAlive(child));
    expect(existsSync(at('outbox', LOCK))).toBe(true);
    // what a kill leaves, and what only looks like it
    mkdirSync(at('outbox', 'Unit'));
    const part = '.report.html.0b64ad5e-6f2b-4d9a-8f3e-0123456789ab.part';
    for (const name of [part, join('Unit', part), 'notes.part', join('Unit', '.own')]) {
      writeFileSync(at('outbox', name), '');
    }
    const third = await lab();
    await third.said('Started flows');
    expect(third.log()).toContain('2 unfinished files');
    // its page of all units may be there already, or be in the making
    const others = readdirSync(at('outbox')).filter((name) => !/^\.{0,2}index\./.test(name));
    expect(others.sort()).toEqual([LOCK, 'Unit', 'notes.part']);
    expect(readdirSync(at('outbox', 'Unit'))).toEqual(['.own']);
  });

  it('takes over a lock whose process number another has got since', async () => {
    const lock = { pid: process.pid, host: hostname(), begun: 'another start of the machine', id: 'x' };
    writeFileSync(at('outbox', LOCK), JSON.stringify(lock));
    const script = await lab();
    await script.said('Started flows');
    expect(JSON.parse(readFileSync(at('outbox', LOCK), 'utf8')).pid).toBe(script.pid);
  });

  it.each(['start', 'lab'] as const)('answers this machine only: npm run %s', async (name) => {
    const script = name === 'lab' ? await lab() : await runScript('start', 'node-red');
    if (name === 'start') running.push(script);
    await script.said('Started flows');
    const ask = (host: string, headers: Record<string, string> = {}): Promise<[number, string]> =>
      new Promise((resolve, reject) => {
        const asking = request({ port: script.port, host: '127.0.0.1', path: '/', headers: { host, ...headers } });
        asking.on('response', (response) => {
          let text = '';
          response.on('data', (part) => {
            text += part;
          });
          response.on('end', () => resolve([response.statusCode ?? 0, text]));
        });
        asking.on('error', reject);
        asking.end();
      });
    const upgrade = { connection: 'Upgrade', upgrade: 'websocket' };
    for (const [host, headers] of [
      ['evil.example', {}],
      [`evil.example:${script.port}`, upgrade],
      ['127.0.0.1.evil.example', {}],
    ] as const) {
      const [status, text] = await ask(host, headers);
      expect(status).toBe(403);
      if (!('upgrade' in headers)) expect(text).toContain('docs/lab.md');
    }
    for (const host of [`127.0.0.1:${script.port}`, 'localhost', `[::1]:${script.port}`]) {
      expect((await ask(host))[0]).not.toBe(403);
    }
  });
});
