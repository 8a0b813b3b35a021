import type { OutputAssumption } from '../model/findings';
import { describe } from './describe';

/**
 * Say on what the levels of a maximum output rest: place, distance, scale.
 *
 * @param assumption of a finding. @param locale as `describe` takes it. @returns some sentences.
 *
 * @example
 * outputAssumption({ place: 'half space', measuredAtM: [2], calibrated: true })
 */
export function outputAssumption({ place, measuredAtM, calibrated }: OutputAssumption, locale?: string): string {
  const values = { place, distancesM: measuredAtM.join(' '), calibrated };
  return describe({ code: 'output-assumption', values }, locale);
}
