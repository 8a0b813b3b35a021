/**
 * What a table has for the language of a locale.
 *
 * @param languages by the language part of a locale, English among them. @param locale such as 'en-US'; English serves
 * where its language is not known.
 *
 * @example
 * inLanguage({ en: 'yes', de: 'ja' }, 'de-AT') // 'ja'
 */
export function inLanguage<T>(languages: Record<string, T> & { en: T }, locale: string): T {
  const language = locale.toLowerCase().split(/[-_]/)[0];
  return Object.hasOwn(languages, language) ? languages[language] : languages.en;
}
