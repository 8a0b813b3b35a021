import type { CaveatPlace, CaveatValues } from '../model/caveat';
import type { Format } from './format';

/** What a phrase speaks of: the place of a caveat; field and line of a refusal. */
export interface Place extends CaveatPlace {
  field?: string;
  line?: number;
  /** The refusal that a caveat tells of, in the same language. */
  reason?: string;
}

/**
 * Makes the sentence of one code in one language: from values, place and the language's number formats,
 * and from nothing else. A phrase may leave out parameters it does not need.
 */
// biome-ignore lint/suspicious/noExplicitAny: each phrase has values of its own, which the makers check
export type Phrase = (values: any, where: Place, say: Format) => string;

/** The phrases of one subject: code -> phrase. */
export type Phrases = Record<string, Phrase>;

/** What a phrase wants to know: none where it takes no values. */
export type ValuesOf<P extends Phrase> = P extends () => string
  ? CaveatValues & Record<string, never>
  : Parameters<P>[0];
