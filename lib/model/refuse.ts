import { BassloomError } from './errors';

/** Throw the refusal of a text, saying which text, which line and what to do. */
export function refuse(code: string, name: string, message: string, line?: number): never {
  const where = line === undefined ? name : `${name}, line ${line}`;
  throw new BassloomError(code, `${where}: ${message}`, { line });
}
