import { type Sayable, speak } from './speak';

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
  return speak(said instanceof Error ? 'refusals' : 'findings', said, locale);
}
