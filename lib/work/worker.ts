import { move, transferableSymbol, valueSymbol } from 'piscina';
import { asBuffers, memoryOf } from './portable';
import type { Progress } from './progress';
import { type AnyTask, type TaskName, tasks } from './tasks';
import { type Answer, type Assignment, packProblem } from './threadProblem';

/** Progress is told no more often than this, ms. */
const PROGRESS_MS = 100;

/** What a worker thread runs: one task at a time. */
export default async function work({ task, input, port }: Assignment): Promise<Answer> {
  try {
    const run = tasks[task as TaskName] as AnyTask;
    const value = await run(asBuffers(input), port ? teller((share) => port.postMessage(share)) : () => {});
    return move({ [transferableSymbol]: memoryOf(value), [valueSymbol]: { value } }) as unknown as Answer;
  } catch (thrown) {
    const problem = packProblem(thrown);
    if (!problem) throw thrown;
    return { problem };
  } finally {
    port?.close();
  }
}

function teller(tell: Progress): Progress {
  let last = Number.NEGATIVE_INFINITY;
  return (share) => {
    const now = performance.now();
    if (now - last < PROGRESS_MS && share < 1) return;
    last = now;
    tell(share);
  };
}
