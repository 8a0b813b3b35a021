import type { MessagePort } from 'node:worker_threads';
import type { CaveatValues } from '../model/caveat';
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
  values?: CaveatValues;
  index?: number;
  measurement?: string;
  stack?: string;
  cause?: string;
}

/** @returns undefined for errors that are no refusal; Node copies those well enough. */
export function packProblem(problem: unknown): PackedProblem | undefined {
  if (!(problem instanceof BassloomError)) return undefined;
  const { code, message, line, field, index, measurement, values, stack, cause } = problem;
  return {
    code,
    message,
    line,
    field,
    index,
    measurement,
    values,
    stack,
    ...(cause !== undefined && { cause: String(cause) }),
  };
}

export function openProblem({ code, message, stack, ...about }: PackedProblem): BassloomError {
  const problem = new BassloomError(code, message, about);
  if (stack !== undefined) problem.stack = stack;
  return problem;
}
