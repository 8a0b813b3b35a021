import type { CaveatValues } from '../model/caveat';
import type { Statement } from '../model/findings';
import { describe } from './describe';
import type { headlines } from './en/headlines';
import type { verdict } from './en/verdict';
import type { ValuesOf } from './phrase';

type Statements = typeof headlines & typeof verdict;

export type StatementCode = keyof Statements;

/**
 * Make a statement of a verdict from its code and values; its sentence comes from the catalogue.
 *
 * @param code one of the catalogue. @param values what the sentence needs, numbers rounded as they are to be read.
 * @param figure id of the figure that shows it.
 *
 * @example
 * makeStatement('shape-kept', { name1: 'deep', lowDriveDb: -24, highDriveDb: 0 }, 'fig-ladder-1')
 */
export function makeStatement<C extends StatementCode>(
  code: C,
  values: ValuesOf<Statements[C]>,
  figure?: string,
): Statement {
  const flat = values as CaveatValues;
  return { code, values: flat, text: describe({ code, values: flat }), ...(figure !== undefined && { figure }) };
}
