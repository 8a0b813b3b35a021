import type { Caveat } from '../model/caveat';
import { en } from './en';
import { ENGLISH, type Format } from './format';
import type { Phrases } from './phrase';

interface Language {
  phrases: Phrases;
  format: Format;
}

/** By the language part of a locale. */
const LANGUAGES: Record<string, Language> = { en: { phrases: en, format: ENGLISH } };

/**
 * Say a caveat in a language.
 *
 * @param caveat from a finding or from `findings.json`. @param locale such as 'en-US'; only the language part counts, and
 * English serves where it is not known.
 * @returns one or two sentences, made from code, place and values; the caveat's own message where the code is not known
 * here (a finding of a later version).
 *
 * @example
 * describe(buildLadder(curves).caveats[0], 'en-GB')
 */
export function describe(caveat: Omit<Caveat, 'message'> & { message?: string }, locale = 'en'): string {
  const { phrases, format } = LANGUAGES[locale.toLowerCase().split(/[-_]/)[0]] ?? LANGUAGES.en;
  const phrase = Object.hasOwn(phrases, caveat.code) ? phrases[caveat.code] : undefined;
  return phrase ? phrase(caveat.values, caveat.where ?? {}, format) : (caveat.message ?? caveat.code);
}
