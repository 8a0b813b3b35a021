import { cautions } from './en/cautions';
import { inLanguage } from './inLanguage';

/** By the language part of a locale. */
const LANGUAGES = { en: cautions };

/**
 * What a sound file warns of whoever is about to play it.
 *
 * @param locale such as 'en-US'; only the language part counts, and English serves where it is not known.
 *
 * @example
 * caution('sweep') // 'Start at a low volume. ...'
 */
export function caution(sound: keyof typeof cautions, locale = 'en'): string {
  return inLanguage(LANGUAGES, locale)[sound];
}
