import type { CaveatPlace, CaveatValues } from '../model/caveat';
import { en } from './en';
import { headlines } from './en/headlines';
import { verdict } from './en/verdict';
import { ENGLISH, type Format } from './format';
import type { Phrases } from './phrase';

interface Language {
  phrases: Phrases;
  format: Format;
}

/** By the language part of a locale. */
const LANGUAGES: Record<string, Language> = {
  en: { phrases: { ...en, ...headlines, ...verdict }, format: ENGLISH },
};

/** What can be said: a caveat, or a statement of a verdict. */
export interface Sayable {
  code: string;
  values: CaveatValues;
  where?: CaveatPlace;
  message?: string;
  text?: string;
}

/**
 * Say a caveat, or a statement of a verdict, in a language.
 *
 * @param said from a finding or from `findings.json`. @param locale such as 'en-US'; only the language part counts, and
 * English serves where it is not known.
 * @returns one or two sentences, made from code, place and values; its own English where the code is not known
 * here (a finding of a later version).
 *
 * @example
 * describe(buildLadder(curves).caveats[0], 'en-GB')
 */
export function describe(said: Sayable, locale = 'en'): string {
  const { phrases, format } = LANGUAGES[locale.toLowerCase().split(/[-_]/)[0]] ?? LANGUAGES.en;
  const phrase = Object.hasOwn(phrases, said.code) ? phrases[said.code] : undefined;
  return phrase ? phrase(said.values, said.where ?? {}, format) : (said.message ?? said.text ?? said.code);
}
