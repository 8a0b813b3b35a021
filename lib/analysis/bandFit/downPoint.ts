import { levelAt, type UnmaskedLine } from './unmaskedLine';

/**
 * Find where a line first falls below a level, going outward from a place.
 *
 * @param line level over log2 frequency. @param start where to begin. @param levelDb the level.
 * @param outward 1: upwards in frequency, -1: downwards.
 * @returns the place, interpolated; null where the line stays above as far as it goes. Where the line is already below
 * at the start, the place further in where it rises above; null where it never does.
 */
export function downPoint(line: UnmaskedLine, start: number, levelDb: number, outward: 1 | -1): number | null {
  const below = levelAt(line, start) < levelDb;
  return crossingFrom(line, start, levelDb, below ? (-outward as 1 | -1) : outward, below);
}

/** First place from the start where the line crosses the level; `rising` to or above it, else below it. */
function crossingFrom(line: UnmaskedLine, start: number, levelDb: number, way: 1 | -1, rising: boolean): number | null {
  const { x, y } = line;
  let beforeX = start;
  let beforeY = levelAt(line, start);
  for (let i = way > 0 ? 0 : x.length - 1; i >= 0 && i < x.length; i += way) {
    if (way * (x[i] - start) <= 0) continue;
    if (rising ? y[i] >= levelDb : y[i] < levelDb) {
      return beforeX + ((levelDb - beforeY) / (y[i] - beforeY)) * (x[i] - beforeX);
    }
    beforeX = x[i];
    beforeY = y[i];
  }
  return null;
}
