import { levelAt, type UnmaskedLine } from './unmaskedLine';

/**
 * Smallest height of a window that holds a range of a line.
 *
 * @param line level over log2 frequency. @param from @param to ends of the range on that axis.
 * @returns dB; undefined where nothing unmasked of the line lies in the range. An end inside a mask does not count.
 */
export function neededHeight(line: UnmaskedLine, from: number, to: number): number | undefined {
  const { x, y, masks } = line;
  const inMask = (at: number) => masks.some(([low, high]) => at > low && at < high);
  const ends = [from, to].filter((at) => at >= x[0] && at <= x[x.length - 1] && !inMask(at));
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (const level of ends.map((at) => levelAt(line, at))) {
    low = Math.min(low, level);
    high = Math.max(high, level);
  }
  for (let i = 0; i < x.length; i++) {
    if (x[i] < from || x[i] > to) continue;
    low = Math.min(low, y[i]);
    high = Math.max(high, y[i]);
  }
  return high >= low ? high - low : undefined;
}
