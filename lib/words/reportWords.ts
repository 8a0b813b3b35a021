import { reportCharts } from './en/reportCharts';
import { reportFigures } from './en/reportFigures';
import { reportPage } from './en/reportPage';
import { ENGLISH, type Format } from './format';
import { inLanguage } from './inLanguage';

/** All that a report says beside findings' own sentences, in one language. */
export interface ReportWords {
  say: Format;
  chart: ReturnType<typeof reportCharts>;
  figure: ReturnType<typeof reportFigures>;
  page: ReturnType<typeof reportPage>;
}

/** By the language part of a locale; each is made when first asked for. */
const LANGUAGES: Record<string, () => ReportWords> & { en: () => ReportWords } = { en: () => english };

const english: ReportWords = {
  say: ENGLISH,
  chart: reportCharts(ENGLISH),
  figure: reportFigures(ENGLISH),
  page: reportPage(ENGLISH),
};

/**
 * The words of a report in a language.
 *
 * @param locale such as 'en-US'; only the language part counts, and English serves where it is not known.
 *
 * @example
 * reportWords('en').page.glance // 'At a glance'
 */
export function reportWords(locale = 'en'): ReportWords {
  return inLanguage(LANGUAGES, locale)();
}
