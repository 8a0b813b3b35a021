import type { CaveatValue } from '../model/caveat';
import { BassloomError } from '../model/errors';
import type { refusals } from './en/refusals';
import type { ValuesOf } from './phrase';
import { speak } from './speak';

export type RefusalCode = keyof typeof refusals;
/** What the message of a code wants to know. */
export type RefusalValues<C extends RefusalCode> = ValuesOf<(typeof refusals)[C]>;

/** An object that stands where a number should is shown up to here. */
const LONGEST = 60;

/**
 * Make a refusal from its code and values; its message comes from the catalogue.
 *
 * @param code one of the catalogue. @param values what the message needs, as the catalogue's phrase has it; what was
 * refused as it was given. @param about the option or property that was wrong, and what caused it.
 *
 * @example
 * throw makeRefusal('sweep-level', { levelDbfs: 3 }, { field: 'levelDbfs' });
 */
export function makeRefusal<C extends RefusalCode>(
  code: C,
  values: RefusalValues<C>,
  about: { field?: string; line?: number; cause?: unknown } = {},
): BassloomError {
  const flat = Object.fromEntries(Object.entries(values).map(([key, value]) => [key, flatten(value)]));
  const message = speak('refusals', { code, values: flat, field: about.field, line: about.line });
  return new BassloomError(code, message, { ...about, values: flat });
}

/** What users give may be anything, whatever its type says. */
function flatten(value: unknown): CaveatValue {
  if (value === undefined || value === null) return null;
  if (typeof value === 'number' || typeof value === 'boolean' || typeof value === 'string') return value;
  try {
    return (JSON.stringify(value) ?? typeof value).slice(0, LONGEST);
  } catch {
    return typeof value; // circular, or a bigint
  }
}
