import { TRUSTED_SNR_DB } from '../../response/caveatsFor';
import type { RoomTrace } from './roomTrace';

/** A trace turned so that what is looked for is a low, with its uncertainty. */
export interface Relief {
  octave: Float64Array;
  levelDb: Float64Array;
  /** 1 for dips, -1 for peaks. */
  sign: 1 | -1;
  /** Level for dips, minus level for peaks, dB. */
  height: Float64Array;
  /** How much higher, and how much lower, the height may be without noise, dB. */
  above: Float64Array;
  below: Float64Array;
  /** Standard deviation of the level by noise, dB. */
  deviation: Float64Array;
  /** Points far enough above the noise to be the shoulder of a dip, or the summit of a peak. */
  shoulder: (i: number) => boolean;
  extreme: (i: number) => boolean;
  /** Local minima of the height; the middle of a flat one. */
  lows: number[];
}

export interface Prominence {
  /** How far the lower of the two shoulders rises above the low, dB. */
  db: number;
  left: number;
  right: number;
  significance: number;
}

/** Standard deviations that noise must not bridge at the low, and again at the shoulder. */
const SURE = 3;

/** What is lower by less than so many standard deviations may as well be higher. */
const UNSURE = 2;

/** No level is known better than this, dB. */
const LEAST_DEVIATION_DB = 0.1;

/** Deviation of a sum or difference; Math.hypot, which guards against overflow, takes ten times as long. */
const rootSum = (a: number, b: number): number => Math.sqrt(a * a + b * b);

/** Turn a trace so that its dips, or its peaks, are lows. */
export function reliefOf(trace: RoomTrace, kind: 'dip' | 'peak'): Relief {
  const { levelDb, spread, snrDb, octave } = trace;
  const more = spread.map((s) => 10 * Math.log10(1 + SURE * s));
  const less = spread.map((s) => -10 * Math.log10(Math.max(1 - SURE * s, 1e-6)));
  const height = kind === 'dip' ? levelDb : levelDb.map((level) => -level);
  const trusted = (i: number) => snrDb[i] >= TRUSTED_SNR_DB;
  const any = () => true;
  return {
    octave,
    levelDb,
    sign: kind === 'dip' ? 1 : -1,
    height,
    above: kind === 'dip' ? more : less,
    below: kind === 'dip' ? less : more,
    deviation: spread.map((s) => rootSum((s * 10) / Math.LN10, LEAST_DEVIATION_DB)),
    shoulder: kind === 'dip' ? trusted : any,
    extreme: kind === 'dip' ? any : trusted,
    lows: lowsOf(height),
  };
}

function lowsOf(height: Float64Array): number[] {
  const lows: number[] = [];
  for (let i = 1; i < height.length - 1; i++) {
    if (!(height[i] < height[i - 1])) continue;
    let end = i;
    while (end < height.length - 1 && height[end + 1] === height[i]) end++;
    if (end < height.length - 1 && height[end + 1] > height[i]) lows.push((i + end) >> 1);
    i = end;
  }
  return lows;
}

/**
 * Topographic prominence of a low: walk to either side until something surely lower, or as far as allowed; the highest
 * points on the way are the shoulders, and the lower of the two counts.
 *
 * @param relief the trace. @param at index of the low. @param reachOctaves how far to walk.
 * @returns null where noise alone could have made it, or where a shoulder is missing.
 */
export function prominenceAt(relief: Relief, at: number, reachOctaves: number): Prominence | null {
  if (!relief.extreme(at)) return null;
  const left = shoulderFrom(relief, at, -1, reachOctaves);
  const right = shoulderFrom(relief, at, 1, reachOctaves);
  if (left < 0 || right < 0) return null;
  const { height, above, below, deviation } = relief;
  const sure = (side: number) => height[side] - below[side] > height[at] + above[at];
  if (!sure(left) || !sure(right)) return null;
  const lower = height[left] < height[right] ? left : right;
  const db = height[lower] - height[at];
  return { db, left, right, significance: db / rootSum(deviation[lower], deviation[at]) };
}

function shoulderFrom(relief: Relief, at: number, step: 1 | -1, reachOctaves: number): number {
  const { octave, height, deviation, shoulder } = relief;
  let best = -1;
  for (let i = at + step; i >= 0 && i < height.length; i += step) {
    const lower = height[at] - height[i];
    if (lower > UNSURE * rootSum(deviation[i], deviation[at])) break;
    if (Math.abs(octave[i] - octave[at]) > reachOctaves) break;
    if (shoulder(i) && (best < 0 || height[i] > height[best])) best = i;
  }
  return best;
}

/**
 * Whether two lows are two: the ridge between them rises surely, and by enough, above the higher one.
 * Of two lows whose order is left to noise, either may have the whole prominence.
 */
export function areApart({ height, above, below }: Relief, a: number, b: number, enoughDb: number): boolean {
  const higher = height[a] > height[b] ? a : b;
  let ridge = a;
  for (let i = Math.min(a, b); i <= Math.max(a, b); i++) if (height[i] > height[ridge]) ridge = i;
  const sure = height[ridge] - below[ridge] > height[higher] + above[higher];
  return sure && height[ridge] - height[higher] >= enoughDb;
}
