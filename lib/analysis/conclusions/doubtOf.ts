import type { Caveat } from '../../model/caveat';
import type { Interval } from '../../model/curve';
import { bandAround } from '../../model/octaves';

/**
 * Say what speaks against a number: the first caveat of its findings that is more than a remark and touches it.
 *
 * @param rangesHz where the number was read; a caveat of other frequencies does not touch it. Left out: all do.
 * @param leastShare of these ranges that a caveat must speak of, in octaves: what was read from many bands does not rest
 * on each of them.
 * @returns undefined where nothing speaks against it.
 */
export function doubtOf(
  findings: readonly { caveats: Caveat[] }[],
  rangesHz?: readonly Interval[],
  leastShare = 0,
): string | undefined {
  return findings
    .flatMap(({ caveats }) => caveats)
    .find((caveat) => caveat.severity !== 'remark' && touches(caveat, rangesHz, leastShare))?.message;
}

function touches({ where }: Caveat, rangesHz: readonly Interval[] | undefined, leastShare: number): boolean {
  const spoken = [...(where?.rangesHz ?? []), ...(where?.bandsHz ?? []).map((hz) => bandAround(hz, 3))];
  if (!rangesHz || spoken.length === 0) return true;
  const octaves = ([low, high]: Interval): number => Math.max(0, Math.log2(high / low));
  const shared = spoken.flatMap(([low, high]) =>
    rangesHz.map(([from, to]) => octaves([Math.max(low, from), Math.min(high, to)])),
  );
  const [share, all] = [shared, rangesHz.map(octaves)].map((list) => list.reduce((sum, one) => sum + one, 0));
  return share > 0 && share >= leastShare * all;
}
