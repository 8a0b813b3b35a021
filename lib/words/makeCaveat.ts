import type { Caveat, CaveatPlace, Refused, Severity } from '../model/caveat';
import { describe } from './describe';
import type { en } from './en';
import type { ValuesOf } from './phrase';

export type CaveatCode = keyof typeof en;

/**
 * Make a caveat from its code and values; its sentence comes from the catalogue.
 *
 * @param code one of the catalogue. @param severity what it does to the numbers. @param values what the sentence needs,
 * as the catalogue's phrase has it. @param where what it speaks of, where that is known.
 * @param because the refusal it tells of, such as a `BassloomError` that was caught.
 *
 * @example
 * makeCaveat('ladder-noise-unknown', 'doubt', {}, { device: 'Unit A' })
 */
export function makeCaveat<C extends CaveatCode>(
  code: C,
  severity: Severity,
  values: ValuesOf<(typeof en)[C]>,
  where?: CaveatPlace,
  because?: Refused,
): Caveat {
  const bare = {
    code,
    severity,
    ...(where && Object.keys(where).length > 0 && { where }),
    values,
    ...(because && { because: plain(because) }),
  };
  return { ...bare, message: describe(bare) };
}

/** Of an error only what a finding may hold. */
function plain({ code = 'failed', values, field, line, message }: Partial<Refused> & { message: string }): Refused {
  return {
    code,
    ...(values && { values }),
    ...(field !== undefined && { field }),
    ...(line !== undefined && { line }),
    message,
  };
}
