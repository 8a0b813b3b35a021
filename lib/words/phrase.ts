import type { CaveatPlace, CaveatValues } from '../model/caveat';
import type { Format } from './format';

/**
 * Makes the sentence of one code in one language: from the caveat's values and place and the language's number formats,
 * and from nothing else. A phrase may leave out parameters it does not need.
 */
// biome-ignore lint/suspicious/noExplicitAny: each phrase has values of its own, which `makeCaveat` checks
export type Phrase = (values: any, where: CaveatPlace, say: Format) => string;

/** The phrases of one subject: code -> phrase. */
export type Phrases = Record<string, Phrase>;

/** What a phrase wants to know: none where it takes no values. */
export type ValuesOf<P extends Phrase> = P extends () => string
  ? CaveatValues & Record<string, never>
  : Parameters<P>[0];
