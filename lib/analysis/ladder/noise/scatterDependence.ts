/** Noise that a pair of rungs shows in a band, from means over some points. */
export interface PairNoise {
  power: number;
  /** Mean of squared second differences of the level difference, dB^2. */
  squareDb: number;
  /** How wide one mean is. */
  octaves: number;
}

/**
 * Means over so many points are held against single points, where they are no wider than so many octaves (what changes
 * smoothly over more is no noise); over more points only where fewer show smoothing.
 */
const BLOCKS = [
  { points: 8, octaves: 0.35 },
  { points: 32, octaves: 0.7 },
];
/** By how much they must show more: over the whole curve; beyond that, in a band and its neighbours to both sides. */
const LIKELY = 2;
const SURE = 3;
const NEIGHBOURS = 3;
const FEWEST_RATIOS = 6;
/** What two runs differ by smoothly over frequency without any noise, dB. */
const SMOOTH_CHANGE_DB = 0.05;
/** Variance of a second difference of free values, in units of theirs. */
const SECOND_DIFFERENCE = 1.5;

/**
 * Find how many neighbouring points of the curves move together: what means over several points show more than single points.
 *
 * @param single noise by [pair][band] from single points. @param noiseBy the same from means over so many points.
 * @param points how many points there are.
 * @returns a factor, >= 1, for each band; 1 where what is seen may be chance.
 *
 * Notes: noise of free points falls with the number averaged, that of smoothed curves or of curves written on a finer
 * grid than they were measured on does not. Three quarters of the bands and pairs must show it, since limiting that
 * changes along frequency shows it in some. No more than twice the number averaged is believed; of heavy smoothing only a
 * part is seen.
 */
export function scatterDependence(
  single: PairNoise[][],
  noiseBy: (block: number) => PairNoise[][],
  points: number,
): number[] {
  const bands = single[0].map((_, band) => band);
  let most = bands.map(() => 1);
  for (const block of BLOCKS) {
    if (points < 8 * block.points) break;
    const coarse = noiseBy(block.points);
    const ratioIn = (some: number[], least: number) =>
      medianWhereSure(
        least,
        single.flatMap((row, pair) => some.flatMap((band) => ratioOf(row[band], coarse[pair][band], block.octaves))),
      );
    const everywhere = ratioIn(bands, LIKELY) ?? 1;
    const found = bands.map((band) => {
      const near = bands.filter((other) => Math.abs(other - band) <= NEIGHBOURS);
      return ratioIn(near, SURE * everywhere) ?? everywhere;
    });
    if (found.every((ratio) => ratio === 1)) break;
    most = most.map((before, band) => Math.max(before, Math.min(found[band], 2 * block.points)));
  }
  return most;
}

/** Nothing where the scatter is no larger than what runs differ by anyway, or means are wider than wanted. */
function ratioOf(single: PairNoise, coarse: PairNoise, widest: number): number[] {
  const anyway = SECOND_DIFFERENCE * SMOOTH_CHANGE_DB ** 2;
  if (!(coarse.squareDb > 4 * anyway) || coarse.octaves > widest || !(single.power > 0)) return [];
  return [((1 - anyway / coarse.squareDb) * coarse.power) / single.power];
}

/** The median, if three quarters exceed the least. */
function medianWhereSure(least: number, values: number[]): number | null {
  if (values.length < FEWEST_RATIOS) return null;
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[sorted.length >> 2] > least ? sorted[sorted.length >> 1] : null;
}
