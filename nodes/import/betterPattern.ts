import { BassloomError } from '../../lib/model/errors';
import type { Library } from '../define';

/** A pattern that some of the names follow that follow the present one not. */
export function betterPattern(lib: Library, odd: string[], stepDb: number): string | undefined {
  const pattern = lib.suggestPattern(odd);
  if (pattern === undefined) return undefined;
  try {
    return odd.some((name) => lib.readFileName(name, pattern, stepDb).matches) ? pattern : undefined;
  } catch (problem) {
    // a name with braces in it, say
    if (problem instanceof BassloomError) return undefined;
    throw problem;
  }
}
