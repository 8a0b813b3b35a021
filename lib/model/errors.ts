import type { CaveatValues } from './caveat';

interface Where {
  line?: number;
  field?: string;
  /** Place in the field, the first being 0. */
  index?: number;
  /** Label of the measurement. */
  measurement?: string;
  /** What the message says, in any language. */
  values?: CaveatValues;
}

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
  declare readonly line?: number;
  declare readonly field?: string;
  declare readonly index?: number;
  declare readonly measurement?: string;
  declare readonly values?: CaveatValues;

  constructor(code: string, message: string, { cause, ...where }: Where & { cause?: unknown } = {}) {
    super(message, cause === undefined ? undefined : { cause });
    this.name = 'BassloomError';
    this.code = code;
    for (const [name, value] of Object.entries(where)) if (value !== undefined) Object.assign(this, { [name]: value });
  }
}
