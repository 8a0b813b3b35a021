import type { BandRange } from '../../model/findings';
import { firstOutside } from './firstOutside';
import type { UnmaskedLine } from './unmaskedLine';

/** Runner-up: no more than this much narrower than the best, octaves. */
const NEARLY_AS_WIDE = 0.1;

/**
 * Find the widest range of a line that a window of some height holds, and the next one.
 *
 * @param line level over log2 frequency. @param heightDb height of the window; its level is free.
 * @returns the widest range, and the widest other one that it covers by less than half and that is at most 0.1 octave
 * narrower, where there is such a one.
 *
 * Exact, ends included. An end that no mask and no end of the line holds lies where the line leaves the window. Unless
 * floor or ceiling touches a vertex, both ends lie on slopes; then moving the window up or down changes the width
 * linearly, and one of the two ways does not narrow it until a vertex is touched. So it is enough to try, for every
 * vertex, the windows that have it on their floor and on their ceiling. O(N log N).
 *
 * @example
 * widestRange(unmaskedLine([1, 2, 4, 8], [0, 10, 10, 0], []), 5).best // 1.41 to 5.66 Hz
 */
export function widestRange(line: UnmaskedLine, heightDb: number): { best: BandRange; runnerUp?: BandRange } {
  const wide: Range[] = [];
  collectWide(line, heightDb, 0, wide);
  collectWide(line, heightDb, heightDb, wide);
  const best = widest(wide)!;
  const runnerUp = widest(
    wide.filter(({ from, to, octaves }) => {
      const shared = Math.min(to, best.to) - Math.max(from, best.from);
      return octaves >= best.octaves - NEARLY_AS_WIDE && shared < octaves / 2;
    }),
  );
  const bandOf = ({ from, to, octaves, floorDb }: Range): BandRange => {
    return { lowHz: 2 ** from, highHz: 2 ** to, octaves, floorDb, ceilingDb: floorDb + heightDb };
  };
  return { best: bandOf(best), ...(runnerUp && { runnerUp: bandOf(runnerUp) }) };
}

interface Range {
  from: number;
  to: number;
  octaves: number;
  floorDb: number;
}

/** The first of the widest. */
function widest(ranges: Range[]): Range | undefined {
  let best: Range | undefined;
  for (const range of ranges) if (!best || range.octaves > best.octaves) best = range;
  return best;
}

/**
 * For every vertex the range around it that stays in the window whose floor lies `depthDb` below the vertex, added to
 * `wide` unless a wider one before it shows that it can be neither the best nor the runner-up.
 */
function collectWide({ x, y, masks }: UnmaskedLine, heightDb: number, depthDb: number, wide: Range[]): void {
  const last = y.length - 1;
  const after = firstOutside(y, depthDb, heightDb - depthDb, 1);
  const before = firstOutside(y, depthDb, heightDb - depthDb, -1);
  let least = (widest(wide)?.octaves ?? 0) - NEARLY_AS_WIDE;
  for (let i = 0; i <= last; i++) {
    const right = after[i];
    const left = before[i];
    if (x[Math.min(right, last)] - x[Math.max(left, 0)] < least) continue;
    const floorDb = y[i] - depthDb;
    const ceilingDb = y[i] + (heightDb - depthDb);
    let from = left < 0 ? x[0] : crossing(x, y, left + 1, left, floorDb, ceilingDb);
    let to = right > last ? x[last] : crossing(x, y, right - 1, right, floorDb, ceilingDb);
    for (const mask of masks) {
      if (from > mask[0] && from < mask[1]) from = mask[1];
      if (to > mask[0] && to < mask[1]) to = mask[0];
    }
    const octaves = to - from;
    if (octaves < least) continue;
    least = Math.max(least, octaves - NEARLY_AS_WIDE);
    wide.push({ from, to, octaves, floorDb });
  }
}

/** Where the segment from a vertex inside the window to one outside leaves it. */
function crossing(
  x: Float64Array,
  y: Float64Array,
  inside: number,
  outside: number,
  floor: number,
  ceiling: number,
): number {
  const level = y[outside] < floor ? floor : ceiling;
  return x[inside] + ((level - y[inside]) / (y[outside] - y[inside])) * (x[outside] - x[inside]);
}
