import type { CaveatValues } from './caveat';

/**
 * Every refusal of the library: `code` for programs, `message` for people
 * (what was wrong, where, what to do).
 *
 * `values` are what the message was made from, so that `describe` can say it in another language; a refusal whose
 * message stands for itself has none.
 *
 * @example
 * throw new BassloomError('one-column', 'run.txt, line 3: only one column; two are needed.', { line: 3 });
 */
export class BassloomError extends Error {
  readonly code: string;
  readonly line?: number;
  readonly field?: string;
  readonly values?: CaveatValues;

  constructor(
    code: string,
    message: string,
    about: { line?: number; field?: string; cause?: unknown; values?: CaveatValues } = {},
  ) {
    super(message, about.cause === undefined ? undefined : { cause: about.cause });
    this.name = 'BassloomError';
    this.code = code;
    if (about.line !== undefined) this.line = about.line;
    if (about.field !== undefined) this.field = about.field;
    if (about.values !== undefined) this.values = about.values;
  }
}
