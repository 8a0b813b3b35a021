import type { Curve, Interval } from '../../model/curve';

const LOWEST_HZ = 4;
const HIGHEST_HZ = 250;

/**
 * Choose one frequency axis for all charts of a session: what was measured, trusted by at least one run,
 * and of interest for a subwoofer.
 *
 * @param runs curves with where each can be trusted. @param wantedHz ranges that must be inside.
 */
export function frequencyRange(
  runs: { curve: Curve; trusted: (hz: number) => boolean }[],
  wantedHz: Interval[] = [],
): Interval {
  const measured = runs.map(({ curve }) => [curve.frequencyHz[0], curve.frequencyHz[curve.frequencyHz.length - 1]]);
  const lowest = Math.min(...measured.map(([low]) => low), ...wantedHz.map(([low]) => low));
  const highest = Math.max(...measured.map(([, high]) => high), ...wantedHz.map(([, high]) => high));
  if (!(highest > lowest)) return [10, 200];
  const trustedFrom = Math.min(...runs.map(lowestTrusted), ...wantedHz.map(([low]) => low));
  const low = Math.max(lowest, Number.isFinite(trustedFrom) ? trustedFrom / 1.25 : lowest, LOWEST_HZ);
  const high = Math.min(highest, Math.max(HIGHEST_HZ, ...wantedHz.map(([, wanted]) => wanted * 1.1)));
  return high > low * 1.5 ? [low, high] : [lowest, highest];
}

function lowestTrusted({ curve, trusted }: { curve: Curve; trusted: (hz: number) => boolean }): number {
  return curve.frequencyHz.find((hz) => hz >= LOWEST_HZ && trusted(hz)) ?? Number.POSITIVE_INFINITY;
}
