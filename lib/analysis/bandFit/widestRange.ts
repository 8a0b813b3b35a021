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
  const standing = rangesOf(line, heightDb, 0);
  const hanging = rangesOf(line, heightDb, heightDb);
  const both = [standing, hanging];
  const best = widest(both, () => true)!;
  const runnerUp = widest(both, (from, to) => {
    const width = to - from;
    return width >= best.octaves - NEARLY_AS_WIDE && Math.min(to, best.to) - Math.max(from, best.from) < width / 2;
  });
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

/** One range for each vertex, as columns. */
interface Ranges {
  from: Float64Array;
  to: Float64Array;
  floorDb: Float64Array;
}

function widest(sets: Ranges[], allowed: (from: number, to: number) => boolean): Range | undefined {
  let best: Range | undefined;
  for (const { from, to, floorDb } of sets) {
    for (let i = 0; i < from.length; i++) {
      const octaves = to[i] - from[i];
      if (octaves <= (best?.octaves ?? -1) || !allowed(from[i], to[i])) continue;
      best = { from: from[i], to: to[i], octaves, floorDb: floorDb[i] };
    }
  }
  return best;
}

/** For every vertex the range around it that stays in the window whose floor lies `depthDb` below the vertex. */
function rangesOf({ x, y, masks }: UnmaskedLine, heightDb: number, depthDb: number): Ranges {
  const count = y.length;
  const after = firstOutside(y, depthDb, heightDb - depthDb, 1);
  const before = firstOutside(y, depthDb, heightDb - depthDb, -1);
  const out = { from: new Float64Array(count), to: new Float64Array(count), floorDb: new Float64Array(count) };
  for (let i = 0; i < count; i++) {
    const floor = y[i] - depthDb;
    const ceiling = y[i] + (heightDb - depthDb);
    const right = after[i];
    const left = before[i];
    let from = left < 0 ? x[0] : crossing(x, y, left + 1, left, floor, ceiling);
    let to = right === count ? x[count - 1] : crossing(x, y, right - 1, right, floor, ceiling);
    for (let m = 0; m < masks.length; m++) {
      const mask = masks[m];
      if (from > mask[0] && from < mask[1]) from = mask[1];
      if (to > mask[0] && to < mask[1]) to = mask[0];
    }
    out.from[i] = from;
    out.to[i] = to;
    out.floorDb[i] = floor;
  }
  return out;
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
