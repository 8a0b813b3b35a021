import { cpSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import os, { tmpdir } from 'node:os';
import { dirname, join, resolve } from 'node:path';

const root = resolve(import.meta.dirname, '../..');
const require = createRequire(import.meta.url);

/** Tasks that do what a test wants to see, in place of the real ones. */
const TASKS = `
const { BassloomError } = require('../model/errors');
const { threadId } = require('node:worker_threads');
const { readFileSync } = require('node:fs');
const spin = (ms) => { const end = performance.now() + ms; while (performance.now() < end); };
let calls = 0;
exports.tasks = {
  where: () => ({ threadId, calls: ++calls }),
  echo: (input) => input,
  kindOf: ({ wav }) => ({ isBuffer: Buffer.isBuffer(wav), memory: wav.buffer.byteLength, sum: wav.reduce((a, b) => a + b, 0) }),
  sound: ({ bytes }) => ({ recordings: [{ wav: Buffer.alloc(bytes, 7), numbers: [1, 2, 3] }] }),
  spin: ({ ms }) => { spin(ms); return threadId; },
  steps: async ({ count, ms }, progress) => {
    for (let i = 1; i <= count; i++) { spin(ms); progress(i / count); }
    return count;
  },
  refuse: ({ code, line, field, cause }) => { throw new BassloomError(code, 'no', { line, field, cause }); },
  fail: () => { throw new TypeError('oh'); },
  die: () => process.exit(3),
  uncloneable: () => ({ value: () => 1 }),
  niceness: () => Number(readFileSync('/proc/thread-self/stat', 'utf8').replace(/.*[)] /, '').split(' ')[16]),
};
`;

export interface FakeWork {
  folder: string;
  // biome-ignore lint/suspicious/noExplicitAny: tasks that only the test knows
  runTask(name: string, input: unknown, options?: object): Promise<any>;
  closeWorkers(): Promise<void>;
  THREADS: number;
  remove(): Promise<void>;
}

/** The compiled pool in a folder of its own, whose path has spaces, with tasks for tests, as on a machine of so many cores. */
export function fakeWork(cores: number): FakeWork {
  const folder = mkdtempSync(join(tmpdir(), 'bassloom work '));
  const work = join(folder, 'lib/work');
  cpSync(join(root, 'dist/lib/work'), work, { recursive: true });
  // what refuses in the pool itself, and in the tasks
  for (const room of ['model', 'words'])
    cpSync(join(root, 'dist/lib', room), join(folder, 'lib', room), { recursive: true });
  symlinkSync(resolve(dirname(require.resolve('piscina')), '../..'), join(folder, 'node_modules'), 'junction');
  writeFileSync(join(work, 'tasks.js'), TASKS);
  const { availableParallelism } = os;
  os.availableParallelism = () => cores;
  const { runTask } = require(join(work, 'runTask.js'));
  os.availableParallelism = availableParallelism;
  const { closeWorkers, THREADS } = require(join(work, 'workers.js'));
  const remove = async () => {
    await closeWorkers();
    rmSync(folder, { recursive: true, force: true });
  };
  return { folder, runTask, closeWorkers, THREADS, remove };
}
