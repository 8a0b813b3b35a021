import type { CaveatPlace, CaveatValues } from '../model/caveat';
import { en } from './en';
import { headlines } from './en/headlines';
import { refusals } from './en/refusals';
import { verdict } from './en/verdict';
import { ENGLISH, type Format } from './format';
import type { Phrases } from './phrase';

interface Language {
  phrases: Phrases;
  format: Format;
}

/** By the language part of a locale. */
const LANGUAGES: Record<string, Language> = {
  en: { phrases: { ...en, ...headlines, ...verdict, ...refusals }, format: ENGLISH },
};

/** What can be said: a caveat, a statement of a verdict, or a refusal such as a `BassloomError`. */
export interface Sayable {
  code: string;
  values?: CaveatValues;
  where?: CaveatPlace;
  field?: string;
  line?: number;
  message?: string;
  text?: string;
}

/**
 * Say a caveat, a statement of a verdict or a refusal in a language.
 *
 * @param said from a finding or from `findings.json`, or an error that was thrown. @param locale such as 'en-US'; only the
 * language part counts, and English serves where it is not known.
 * @returns one or two sentences, made from code, place and values; its own English where the code is not known
 * here (a finding of a later version), or where a refusal has no values to make it from.
 *
 * @example
 * describe(buildLadder(curves).caveats[0], 'en-GB')
 */
export function describe(said: Sayable, locale = 'en'): string {
  const { phrases, format } = LANGUAGES[locale.toLowerCase().split(/[-_]/)[0]] ?? LANGUAGES.en;
  const { code, values, where, field, line } = said;
  const phrase = Object.hasOwn(phrases, code) ? phrases[code] : undefined;
  return phrase && values ? phrase(values, { ...where, field, line }, format) : (said.message ?? said.text ?? code);
}
