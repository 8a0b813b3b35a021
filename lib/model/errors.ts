/**
 * Every refusal of the library: `code` for programs, `message` for people
 * (what was wrong, where, what to do).
 *
 * @example
 * throw new BassloomError('one-column', 'run.txt, line 3: only one column; two are needed.', { line: 3 });
 */
export class BassloomError extends Error {
  readonly code: string;
  readonly line?: number;
  readonly field?: string;

  constructor(code: string, message: string, where: { line?: number; field?: string; cause?: unknown } = {}) {
    super(message, where.cause === undefined ? undefined : { cause: where.cause });
    this.name = 'BassloomError';
    this.code = code;
    if (where.line !== undefined) this.line = where.line;
    if (where.field !== undefined) this.field = where.field;
  }
}
