import type { MessagePort } from 'node:worker_threads';
import { makeRefusal } from '../words/makeRefusal';
import { asBuffers, copySounds, memoryOf } from './portable';
import type { Progress } from './progress';
import { enter } from './queue';
import { type AnyTask, type TaskInput, type TaskName, type TaskResult, tasks } from './tasks';
import { type Answer, type Assignment, openProblem } from './threadProblem';
import { CREWS, type Crew, workers } from './workers';

export interface TaskOptions {
  /** Told how far the task is, 0 to 1. */
  onProgress?: Progress;
  /** Ends the task, running or waiting. */
  signal?: AbortSignal;
  /** Which threads; default those for work. */
  crew?: Crew;
}

const queues = { work: enter(CREWS.work), pictures: enter(CREWS.pictures) };

/**
 * Do heavy work beside the event loop, in one of the process's few worker threads.
 *
 * @param name which of `tasks`. @param input what it works on: copied, never changed and never taken
 * away, and not to be changed by others before the task is done.
 * @returns what the task gives; sounds in it are Buffers.
 * @throws BassloomError of the task itself, with its code, line and field; `worker-failed` where the thread died; the
 * signal's reason where it was aborted.
 *
 * Notes: tasks beyond the number of a crew's threads wait in the order they came. An abort ends the thread of a running task.
 * Where the library runs from its TypeScript sources there is no compiled worker: the task then runs in this thread,
 * and an abort only takes hold before it begins.
 *
 * @example
 * const { response } = await runTask('deconvolve', { capture, stimulus, options: {} }, { onProgress: console.log });
 */
export async function runTask<N extends TaskName>(
  name: N,
  input: TaskInput<N>,
  options: TaskOptions = {},
): Promise<TaskResult<N>> {
  const { signal, onProgress, crew = 'work' } = options;
  signal?.throwIfAborted();
  const leave = await queues[crew](signal);
  try {
    const pool = workers(crew);
    if (pool) return (await runThere(pool, { task: name, input }, options)) as TaskResult<N>;
    return (await (tasks[name] as AnyTask)(input, onProgress ?? (() => {}))) as TaskResult<N>;
  } finally {
    leave();
  }
}

async function runThere(pool: NonNullable<ReturnType<typeof workers>>, given: Assignment, options: TaskOptions) {
  const { signal, onProgress } = options;
  const input = await copySounds(given.input);
  const ports = onProgress && listen(onProgress);
  const assignment: Assignment = { ...given, input, ...(ports && { port: ports.far }) };
  try {
    const transferList = [...memoryOf(input), ...(ports ? [ports.far] : [])];
    const answer: Answer = await pool.run(assignment, { signal, transferList });
    if ('problem' in answer) throw openProblem(answer.problem);
    return asBuffers(answer.value);
  } catch (problem) {
    signal?.throwIfAborted();
    throw explain(problem, given.task);
  } finally {
    ports?.near.close();
  }
}

function listen(onProgress: Progress): { near: MessagePort; far: MessagePort } {
  const { port1: near, port2: far } = new MessageChannel() as unknown as { port1: MessagePort; port2: MessagePort };
  near.on('message', onProgress);
  return { near, far };
}

/** A thread that died gives an error of Node's; one that the task threw is passed on as it is. */
function explain(problem: unknown, task: string): unknown {
  const { code, message } = problem as { code?: unknown; message?: string };
  const isOfThread = /^ERR_WORKER/.test(String(code)) || /^(worker exited|Terminating worker)/.test(message ?? '');
  if (!isOfThread) return problem;
  return makeRefusal('worker-failed', { task, why: message ?? String(code) }, { cause: problem });
}
