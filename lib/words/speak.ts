import type { CaveatPlace, CaveatValues, Refused } from '../model/caveat';
import { en } from './en';
import { headlines } from './en/headlines';
import { refusals } from './en/refusals';
import { verdict } from './en/verdict';
import { ENGLISH, type Format } from './format';
import { inLanguage } from './inLanguage';
import type { Phrases } from './phrase';

interface Language {
  findings: Phrases;
  /** Apart: a refusal may have the code of a caveat or a statement. */
  refusals: Phrases;
  format: Format;
}

/** By the language part of a locale. */
const LANGUAGES: Record<string, Language> & { en: Language } = {
  en: { findings: { ...en, ...headlines, ...verdict }, refusals, format: ENGLISH },
};

/** What can be said: a caveat, a statement of a verdict, or a refusal such as a `BassloomError`. */
export interface Sayable {
  code: string;
  values?: CaveatValues;
  where?: CaveatPlace;
  field?: string;
  line?: number;
  because?: Refused;
  message?: string;
  text?: string;
}

/** Say what has a code in a language: `findings` are caveats and statements. @returns as `describe` does. */
export function speak(of: 'findings' | 'refusals', said: Sayable, locale = 'en'): string {
  const language = inLanguage(LANGUAGES, locale);
  const { code, values, where, field, line, because } = said;
  const phrase = Object.hasOwn(language[of], code) ? language[of][code] : undefined;
  const reason = because && speak('refusals', because, locale);
  if (phrase && values) return phrase(values, { ...where, field, line, reason }, language.format);
  return said.message ?? said.text ?? code;
}
