import type { Statement } from '../../model/findings';

/** What a headline may hold. */
export const MOST_WORDS = 20;

/** The first of some statements, fullest first, that is short enough for a headline; the last where none is. */
export function firstShort(statements: readonly Statement[]): Statement {
  const isShort = ({ text }: Statement): boolean => text.split(/\s+/).length <= MOST_WORDS;
  return statements.find(isShort) ?? statements[statements.length - 1];
}
