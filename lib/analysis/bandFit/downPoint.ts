import type { Interval } from '../../model/curve';
import { levelAt, type UnmaskedLine } from './unmaskedLine';

/** A stretch below the level is a dip, not the end of the range, where it is narrower than this, octaves. A choice, no source. */
const MOST_DIP_OCTAVES = 0.5;
/** The line is back beyond a dip where it stays above for as long as it was below, and for so much. A choice, no source. */
const LEAST_BACK_OCTAVES = 1 / 6;

/** Where a line falls below a level for good, and the bottoms of the dips on the way; all log2 of Hz. */
export interface DownPoint {
  at: number | null;
  dips: number[];
}

/**
 * Find where a line falls below a level and stays there, going outward from a place.
 *
 * @param line level over log2 frequency. @param start where to begin. @param levelDb the level.
 * @param outward 1: upwards in frequency, -1: downwards. @param trusted where the line stands clear of noise: beyond it
 * nothing counts as a return.
 * @returns the place, interpolated; null where the line stays above as far as it goes. Dips narrower than half an octave,
 * beyond which the line comes back for at least as long and 1/6 octave, are passed over and named. Where the line is
 * below already at the start, and that is no such dip, the place further in where it rises above; null where it never
 * does.
 */
export function downPoint(
  line: UnmaskedLine,
  start: number,
  levelDb: number,
  outward: 1 | -1,
  trusted: Interval,
): DownPoint {
  const isBelow = levelAt(line, start) < levelDb;
  const dips: number[] = [];
  let at = isBelow
    ? crossingFrom(line, start, levelDb, -outward as 1 | -1, true)
    : crossingFrom(line, start, levelDb, outward, false);
  while (at !== null) {
    const back = returnFrom(line, at, levelDb, outward, outward > 0 ? trusted[1] : trusted[0]);
    if (!back) break;
    dips.push(bottomBetween(line, at, back.from));
    at = back.to;
  }
  return { at, dips };
}

/** The stretch above the level with which the line comes back from a dip; `to` null where it stays above to its end. */
function returnFrom(
  line: UnmaskedLine,
  at: number,
  levelDb: number,
  outward: 1 | -1,
  limit: number,
): { from: number; to: number | null } | undefined {
  let below: number | null = at;
  while (below !== null) {
    const from = crossingFrom(line, below, levelDb, outward, true);
    const width = from === null ? Number.POSITIVE_INFINITY : outward * (from - at);
    if (from === null || width >= MOST_DIP_OCTAVES) return undefined;
    const to = crossingFrom(line, from, levelDb, outward, false);
    const end = outward * Math.min(outward * limit, outward * (to ?? limit));
    if (outward * (end - from) >= Math.max(width, LEAST_BACK_OCTAVES)) return { from, to };
    below = to;
  }
  return undefined;
}

function bottomBetween({ x, y }: UnmaskedLine, a: number, b: number): number {
  const [from, to] = [Math.min(a, b), Math.max(a, b)];
  let best = -1;
  for (let i = 0; i < x.length; i++) if (x[i] >= from && x[i] <= to && !(y[i] >= y[best])) best = i;
  return best < 0 ? (from + to) / 2 : x[best];
}

/** First place from the start where the line crosses the level; `rising` to or above it, else below it. */
function crossingFrom(line: UnmaskedLine, start: number, levelDb: number, way: 1 | -1, rising: boolean): number | null {
  const { x, y } = line;
  let beforeX = start;
  let beforeY = levelAt(line, start);
  for (let i = way > 0 ? 0 : x.length - 1; i >= 0 && i < x.length; i += way) {
    if (way * (x[i] - start) <= 0) continue;
    if (rising ? y[i] >= levelDb : y[i] < levelDb) {
      return y[i] === beforeY ? x[i] : beforeX + ((levelDb - beforeY) / (y[i] - beforeY)) * (x[i] - beforeX);
    }
    beforeX = x[i];
    beforeY = y[i];
  }
  return null;
}
