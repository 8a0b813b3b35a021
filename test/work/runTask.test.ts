import { execFileSync } from 'node:child_process';
import { createRequire } from 'node:module';
import { getPriority } from 'node:os';
import { join } from 'node:path';
import { threadId } from 'node:worker_threads';
import { afterAll, describe, expect, test } from 'vitest';
import { fakeWork } from './fakeTasks';

const require = createRequire(import.meta.url);
const pause = (ms: number) => new Promise((resolve) => setTimeout(resolve, ms));

describe.each([
  [2, 1],
  [16, 2],
])('on %i cores, with at most %i threads', (cores, threads) => {
  const { runTask, closeWorkers, THREADS, folder, remove } = fakeWork(cores);
  const { BassloomError } = require(join(folder, 'lib/model/errors.js'));
  afterAll(remove);

  test('a task runs in a thread that stays for the next one', async () => {
    const first = await runTask('where', {});
    expect(first.threadId).not.toBe(threadId);
    const seen = [first];
    for (let i = 0; i < 4; i++) seen.push(await runTask('where', {}));
    expect(new Set(seen.map((one) => one.threadId)).size).toBeLessThanOrEqual(THREADS);
    expect(seen.at(-1).calls).toBeGreaterThan(1);
  });

  test('so many work at once, and all tasks get their turn', async () => {
    const ids = await Promise.all(Array.from({ length: 6 }, () => runTask('spin', { ms: 60 })));
    expect(THREADS).toBe(threads);
    expect(new Set(ids).size).toBe(threads);
  });

  test('plain data comes back as it went', async () => {
    const data = {
      text: 'ü',
      numbers: [1.5, -0, 1e300],
      nested: [{ a: null, b: [true] }],
      nothing: undefined,
      empty: [],
    };
    expect(await runTask('echo', data)).toEqual(data);
  });

  test('a sound is copied: the caller keeps it, and only its own bytes are sent', async () => {
    const memory = Buffer.alloc(1e6, 1);
    const part = memory.subarray(10, 1010);
    expect(await runTask('kindOf', { wav: memory })).toEqual({ isBuffer: true, memory: 1e6, sum: 1e6 });
    expect(await runTask('kindOf', { wav: part })).toEqual({ isBuffer: true, memory: 1000, sum: 1000 });
    const pooled = Buffer.from([1, 2, 3]);
    expect(await runTask('kindOf', { wav: pooled })).toEqual({ isBuffer: true, memory: 3, sum: 6 });
    expect([memory.length, part[999], pooled[2]]).toEqual([1e6, 1, 3]);
  });

  test('sounds come back as Buffers, large and small', async () => {
    for (const bytes of [3, 5000, 1e6]) {
      const { recordings } = await runTask('sound', { bytes });
      expect(Buffer.isBuffer(recordings[0].wav)).toBe(true);
      expect(recordings[0].wav.equals(Buffer.alloc(bytes, 7))).toBe(true);
      expect(recordings[0].numbers).toEqual([1, 2, 3]);
    }
  });

  test('a refusal keeps its class, code, message, line, field and cause', async () => {
    const given = { code: 'odd', line: 3, field: 'level', cause: 'that' };
    const refusal = await runTask('refuse', given).catch((problem) => problem);
    expect(refusal).toBeInstanceOf(BassloomError);
    expect(refusal).toMatchObject({ ...given, message: 'no', name: 'BassloomError' });
    expect(refusal.stack).toContain('tasks.js');
    const bare = await runTask('refuse', { code: 'odd' }).catch((problem) => problem);
    expect({ ...bare }).toEqual({ ...new BassloomError('odd', 'no') });
    expect(bare).not.toHaveProperty('cause');
  });

  test('a failure that is no refusal keeps its kind and message', async () => {
    const failure = await runTask('fail', {}).catch((problem) => problem);
    expect(failure).toMatchObject({ name: 'TypeError', message: 'oh' });
  });

  test('what cannot be copied fails, there and back, and the pool goes on', async () => {
    await expect(runTask('echo', { value: () => 1 })).rejects.toThrow(/could not be cloned/);
    await expect(runTask('uncloneable', {})).rejects.toThrow();
    expect(await runTask('echo', 5)).toBe(5);
  });

  test('a thread that dies is told as a refusal, and the next task gets a new one', async () => {
    await expect(runTask('die', {})).rejects.toMatchObject({ code: 'worker-failed', name: 'BassloomError' });
    expect(await runTask('echo', 6)).toBe(6);
  });

  test('progress is told while the task runs, rising, at most every tenth of a second, and never after', async () => {
    const told: number[] = [];
    const began = performance.now();
    const count = await runTask('steps', { count: 100, ms: 3 }, { onProgress: (share: number) => told.push(share) });
    expect(count).toBe(100);
    const before = told.length;
    expect(before).toBeGreaterThanOrEqual(2);
    expect(before).toBeLessThanOrEqual(2 + (performance.now() - began) / 100);
    expect(told).toEqual([...told].sort((a, b) => a - b));
    await pause(30);
    expect(told.length).toBe(before);
  });

  test('an abort ends a running task at once, with its reason, and those that wait go on', async () => {
    const controller = new AbortController();
    const long = Array.from({ length: THREADS }, () => runTask('spin', { ms: 20_000 }, { signal: controller.signal }));
    const next = runTask('echo', 'after');
    await pause(100);
    controller.abort(new Error('enough'));
    const outcomes = await Promise.allSettled(long);
    for (const outcome of outcomes)
      expect(outcome).toMatchObject({ status: 'rejected', reason: { message: 'enough' } });
    expect(await next).toBe('after');
  });

  test('a task that waits, or has not been given yet, is aborted without being begun', async () => {
    const first = Array.from({ length: THREADS }, () => runTask('spin', { ms: 150 }));
    const controller = new AbortController();
    const waiting = runTask('spin', { ms: 1 }, { signal: controller.signal });
    controller.abort();
    await expect(waiting).rejects.toMatchObject({ name: 'AbortError' });
    await expect(runTask('spin', { ms: 1 }, { signal: controller.signal })).rejects.toMatchObject({
      name: 'AbortError',
    });
    await Promise.all(first);
    expect(await runTask('echo', 7)).toBe(7);
  });

  test('an abort after the end does no harm', async () => {
    const controller = new AbortController();
    expect(await runTask('echo', 8, { signal: controller.signal })).toBe(8);
    controller.abort();
    await pause(10);
    expect(await runTask('echo', 9)).toBe(9);
  });

  test('closing ends what runs, and a later task starts anew', async () => {
    const running = runTask('spin', { ms: 20_000 }).catch((problem) => problem);
    await pause(100);
    await closeWorkers();
    expect(await running).toMatchObject({ code: 'worker-failed' });
    expect(await runTask('echo', 10)).toBe(10);
  });

  test.runIf(process.platform === 'linux')(
    'threads yield to the event loop: theirs is the lower priority',
    async () => {
      // 19 is the lowest there is
      expect(await runTask('niceness', {})).toBe(Math.min(getPriority() + 10, 19));
    },
  );

  test('a process that has nothing else to do ends by itself, with its threads idle', () => {
    const script = `
    const { runTask } = require(${JSON.stringify(join(folder, 'lib/work/runTask.js'))});
    const { workers } = require(${JSON.stringify(join(folder, 'lib/work/workers.js'))});
    runTask('where', {}, { onProgress() {} });
    process.on('beforeExit', () => console.log(workers('work').threads.length));`;
    // threads that had to go first would leave none
    expect(Number(execFileSync(process.execPath, ['-e', script], { encoding: 'utf8' }))).toBe(1);
  });
});
