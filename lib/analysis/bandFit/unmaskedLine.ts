import type { Interval } from '../../model/curve';

/** Level over log2 frequency as straight lines between vertices, with ranges in which no end may lie. */
export interface UnmaskedLine {
  /** log2 of the frequency in Hz, strictly rising. */
  x: Float64Array;
  /** dB. */
  y: Float64Array;
  /** Masks on the same axis, in order, not overlapping. */
  masks: [from: number, to: number][];
}

/**
 * Take the masked points out of a curve; the line goes straight on between their neighbours.
 *
 * @param frequencyHz rising, Hz. @param levelDb dB. @param masksHz in order, not overlapping.
 * @param octaves log2 of the frequencies, where they are at hand.
 * @returns the line, with a vertex on every mask border that lies within it; no vertices where all is masked.
 */
export function unmaskedLine(
  frequencyHz: ArrayLike<number>,
  levelDb: ArrayLike<number>,
  masksHz: readonly Interval[],
  octaves: ArrayLike<number> = octavesOf(frequencyHz),
): UnmaskedLine {
  const last = frequencyHz.length;
  const x = new Float64Array(last);
  const y = new Float64Array(last);
  let count = 0;
  let i = 0;
  for (const [low, high] of [...masksHz, BEYOND]) {
    for (; i < last && frequencyHz[i] <= low; i++) {
      x[count] = octaves[i];
      y[count++] = levelDb[i];
    }
    while (i < last && frequencyHz[i] < high) i++;
  }
  const masks = masksHz.map(([low, high]): [number, number] => [Math.log2(low), Math.log2(high)]);
  return { ...withVertices({ x: x.subarray(0, count), y: y.subarray(0, count) }, masks.flat()), masks };
}

const BEYOND: Interval = [Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY];

/** log2 of frequencies. */
export function octavesOf(frequencyHz: ArrayLike<number>): Float64Array {
  const octaves = new Float64Array(frequencyHz.length);
  for (let i = 0; i < octaves.length; i++) octaves[i] = Math.log2(frequencyHz[i]);
  return octaves;
}

/** Level of a line at a place within it. */
export function levelAt({ x, y }: Pick<UnmaskedLine, 'x' | 'y'>, at: number): number {
  const last = x.length - 1;
  if (at <= x[0]) return y[0];
  if (at >= x[last]) return y[last];
  const i = indexBelow(x, at);
  return y[i] + ((at - x[i]) / (x[i + 1] - x[i])) * (y[i + 1] - y[i]);
}

/** The line with further vertices on it, in rising order; places outside it, and those that are vertices already, are passed over. */
function withVertices(line: Pick<UnmaskedLine, 'x' | 'y'>, places: number[]): Pick<UnmaskedLine, 'x' | 'y'> {
  const { x, y } = line;
  const wanted = places.filter((at) => at > x[0] && at < x[x.length - 1] && x[indexBelow(x, at)] !== at);
  const out = { x: new Float64Array(x.length + wanted.length), y: new Float64Array(x.length + wanted.length) };
  let from = 0;
  wanted.forEach((at, n) => {
    const to = indexBelow(x, at) + 1;
    out.x.set(x.subarray(from, to), from + n);
    out.y.set(y.subarray(from, to), from + n);
    out.x[to + n] = at;
    out.y[to + n] = levelAt(line, at);
    from = to;
  });
  out.x.set(x.subarray(from), from + wanted.length);
  out.y.set(y.subarray(from), from + wanted.length);
  return out;
}

/** Index of the last vertex at or below a place; the last but one at the most. */
function indexBelow(x: Float64Array, at: number): number {
  let low = 0;
  let high = x.length - 1;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (x[middle] <= at) low = middle;
    else high = middle;
  }
  return low;
}
