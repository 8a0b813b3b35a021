import type { ExposureSource } from '../model/findings';
import { describe } from './describe';

/**
 * Say where the levels of an exposure come from, fit to stand in brackets.
 *
 * @param from of a finding. @param locale as `describe` takes it.
 *
 * @example
 * exposureSource({ dba: 'stated', dbc: null, run: null, runs: 0 }) // 'as stated for the ear'
 */
export function exposureSource(from: ExposureSource, locale?: string): string {
  return describe({ code: 'exposure-source', values: { ...from } }, locale);
}
