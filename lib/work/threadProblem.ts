import type { MessagePort } from 'node:worker_threads';
import { BassloomError } from '../model/errors';

/** What a worker is given. */
export interface Assignment {
  task: string;
  input: unknown;
  /** Where to say how far it is. */
  port?: MessagePort;
}

/** What comes back: what the task gave, or why it refused. */
export type Answer = { value: unknown } | { problem: PackedProblem };

/** A refusal as plain data: a copy to another thread drops what makes an error ours. */
export interface PackedProblem {
  code: string;
  message: string;
  line?: number;
  field?: string;
  stack?: string;
  cause?: string;
}

/** @returns undefined for errors that are no refusal; Node copies those well enough. */
export function packProblem(problem: unknown): PackedProblem | undefined {
  if (!(problem instanceof BassloomError)) return undefined;
  const { code, message, line, field, stack, cause } = problem;
  return { code, message, line, field, stack, ...(cause !== undefined && { cause: String(cause) }) };
}

export function openProblem({ code, message, stack, ...where }: PackedProblem): BassloomError {
  const problem = new BassloomError(code, message, where);
  if (stack !== undefined) problem.stack = stack;
  return problem;
}
