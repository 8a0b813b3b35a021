import type { WhySetAside } from '../lib';
import type { Curve } from '../lib/model/curve';
import type { Library } from './define';
import { groupBy } from './groupBy';

/** The responses that cannot be judged together with the others of their unit and setting, and why. */
export function oddRuns(lib: Library, responses: Curve[]): { run: Curve; why: WhySetAside }[] {
  return groupBy(responses, ['device', 'setting']).flatMap((group) => lib.setAsideOdd(group).aside);
}
