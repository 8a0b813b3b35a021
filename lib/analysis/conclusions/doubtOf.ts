import type { Caveat } from '../../model/caveat';
import type { Interval } from '../../model/curve';
import { bandAround } from '../../model/octaves';

/**
 * Say what speaks against a number: the first caveat of its findings that is more than a remark and touches it.
 *
 * @param rangesHz where the number was read; a caveat of other frequencies does not touch it. Left out: all do.
 * @returns undefined where nothing speaks against it.
 */
export function doubtOf(
  findings: readonly { caveats: Caveat[] }[],
  rangesHz?: readonly Interval[],
): string | undefined {
  return findings
    .flatMap(({ caveats }) => caveats)
    .find((caveat) => caveat.severity !== 'remark' && touches(caveat, rangesHz))?.message;
}

function touches({ where }: Caveat, rangesHz: readonly Interval[] | undefined): boolean {
  const spoken = [...(where?.rangesHz ?? []), ...(where?.bandsHz ?? []).map((hz) => bandAround(hz, 3))];
  if (!rangesHz || spoken.length === 0) return true;
  return spoken.some(([low, high]) => rangesHz.some(([from, to]) => low < to && high > from));
}
