import type { Interval } from '../model/curve';
import { makeRefusal } from '../words/makeRefusal';

/**
 * Put intervals in order and join those that overlap or touch.
 *
 * @param intervalsHz any order, Hz. @param field name of the option they came in, for the refusal.
 * @throws BassloomError `bad-interval` where one is not two rising numbers of 0 or more.
 *
 * @example
 * mergeIntervals([[40, 50], [20, 30], [45, 60]]) // [[20, 30], [40, 60]]
 */
export function mergeIntervals(intervalsHz: readonly Interval[], field = 'masksHz'): Interval[] {
  for (const interval of intervalsHz) checkInterval(interval, field);
  const merged: Interval[] = [];
  for (const [low, high] of [...intervalsHz].sort((a, b) => a[0] - b[0])) {
    const before = merged[merged.length - 1];
    if (before && low <= before[1]) before[1] = Math.max(before[1], high);
    else merged.push([low, high]);
  }
  return merged;
}

/** Refuse what is not a low and a higher frequency in Hz. @throws BassloomError `bad-interval`. */
export function checkInterval(interval: Interval, field: string): void {
  const [low, high] = interval ?? [];
  if (low >= 0 && high > low && Number.isFinite(high)) return;
  throw makeRefusal('bad-interval', { low, high }, { field });
}

/** Whether a frequency lies inside one of some intervals, borders not counted. */
export function isInside(hz: number, intervalsHz: readonly Interval[]): boolean {
  for (const interval of intervalsHz) if (hz > interval[0] && hz < interval[1]) return true;
  return false;
}
