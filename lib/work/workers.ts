import { existsSync } from 'node:fs';
import { availableParallelism } from 'node:os';
import { join } from 'node:path';
import type { Piscina } from 'piscina';

/**
 * Threads at most: one core stays with the event loop, and more than two would cost memory (some 100 MB each at work)
 * that small machines lack while a session's captures are a matter of seconds anyway.
 */
export const THREADS = Math.min(2, Math.max(1, availableParallelism() - 1));
/** An idle thread goes after so long, ms: long enough for the next file of a session, and for its sweep to be known still. */
const IDLE_MS = 30_000;
/** The event loop goes first where cores are scarce. On macOS niceness is the whole process's, so it is left alone there. */
const NICE = process.platform === 'darwin' ? 0 : 10;

/** Pictures that somebody waits for do not stand in line behind minutes of work: a thread of their own draws them. */
export const CREWS = { work: THREADS, pictures: 1 } as const;
export type Crew = keyof typeof CREWS;

const pools = new Map<Crew, Piscina>();
let isCompiled: boolean | undefined;

/**
 * The pool of a crew in this process, made when first asked for; undefined where the worker is not compiled.
 *
 * It does not keep the process alive while it is idle.
 */
export function workers(crew: Crew): Piscina | undefined {
  const filename = join(__dirname, 'worker.js');
  isCompiled ??= existsSync(filename);
  if (!isCompiled) return undefined;
  const known = pools.get(crew);
  if (known) return known;
  const { Piscina: Pool } = require('piscina') as typeof import('piscina');
  const pool = new Pool({
    filename,
    minThreads: 0,
    maxThreads: CREWS[crew],
    idleTimeout: IDLE_MS,
    niceIncrement: NICE,
    recordTiming: false,
  });
  // A thread that dies while it is idle concerns nobody: the next task gets a new one.
  pool.on('error', () => {});
  pools.set(crew, pool);
  return pool;
}

/**
 * End all worker threads, and with them what they are at; a later task starts new ones.
 *
 * @returns when they have ended.
 *
 * @example
 * await closeWorkers();
 */
export async function closeWorkers(): Promise<void> {
  const closing = [...pools.values()];
  pools.clear();
  await Promise.all(closing.map((pool) => pool.destroy()));
}
