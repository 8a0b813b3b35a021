import type { Curve } from '../../lib/model/curve';
import { BassloomError } from '../../lib/model/errors';

/**
 * The two settings of a unit to compare: those named, else the first two found.
 *
 * @param found the unit's responses, one group for each setting.
 * @returns none where the unit has only one.
 * @throws BassloomError `no-such-setting`.
 */
export function chooseSettings(found: Curve[][], nameA?: string, nameB?: string): [Curve[], Curve[]] | undefined {
  if (found.length < 2) return undefined;
  const namedB = nameB === undefined ? undefined : named(found, nameB, 'settingB');
  const a = nameA === undefined ? found.find((curves) => curves !== namedB) : named(found, nameA, 'settingA');
  const b = namedB ?? found.find((curves) => curves !== a);
  return a && b && [a, b];
}

function named(found: Curve[][], name: string, field: string): Curve[] {
  const curves = found.find(([{ about }]) => about.setting === name);
  if (curves) return curves;
  const known = found.map(([{ about }]) => `"${about.setting ?? ''}"`).join(', ');
  throw new BassloomError('no-such-setting', `There is no setting "${name}" among the responses, only ${known}.`, {
    field,
  });
}
