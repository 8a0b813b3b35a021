import type { Curve } from '../../model/curve';
import { powersOf } from '../../model/decibel';
import { interpolate } from '../../model/interpolate';
import { bandAround } from '../../model/octaves';
import { bandPoints } from './bandPoints';
import type { BandNoise, Rung } from './cells';
import { sameGrid } from './sameGrid';

/** dB^2 of level variance for each unit of noise-to-signal power: (20/ln 10)^2 / 2. */
const DB2_PER_RATIO = (20 / Math.LN10) ** 2 / 2;
/** Neighbouring pairs of rungs looked at, from the bottom. */
const PAIRS = 2;
/** How many rungs above a pair the curve is taken from that says where the signal is weak. */
const SHAPE_ABOVE = 3;
const WANTED_POINTS = 16;
const BLOCK = 8;

export interface ScatterNoise {
  bands: BandNoise[];
  /** How many neighbouring points were found to move together over the whole curve; 1 where they do not. */
  smoothedOver: number;
}

/**
 * Estimate the noise power in each band from how the lowest rungs differ from point to point.
 *
 * @param rungs lowest first. @param bandsHz third-octave centres.
 * @returns null where the curves have too few points (fewer than 5 in common).
 *
 * Notes: between two rungs the room and the unit drop out and what changes from point to point is noise: in dB the
 * difference has the variance (20/ln 10)^2/2 (1/snr1 + 1/snr2), for complex Gaussian noise of the same power in all rungs.
 * Second differences along frequency drop what changes smoothly (compression). Each is weighted by how strong the signal
 * is there, read from a higher rung, so that the room's dips do not count as noise. Curves of another grid are read
 * on straight lines. Curves that were smoothed scatter less than their noise: averages of eight points are then
 * compared to single points, and what they show more is added to the noise; of heavy smoothing only a part is seen.
 */
export function noiseFromScatter(rungs: Rung[], bandsHz: number[]): ScatterNoise | null {
  const frequencyHz = rungs[0].curves[0].frequencyHz;
  const levels = rungs.slice(0, PAIRS + 1 + SHAPE_ABOVE).map(({ curves }) => levelsOn(frequencyHz, curves[0]));
  const common = commonRange(rungs.slice(0, levels.length), frequencyHz);
  if (common[1] - common[0] < 5) return null;
  const powers = levels.map(powersOf);
  const pairs = Math.min(PAIRS, rungs.length - 1);
  const fine: number[][] = [];
  const coarse: number[][] = [];
  for (let low = 0; low < pairs; low++) {
    const shape = powers[Math.min(low + 1 + SHAPE_ABOVE, powers.length - 1)];
    const scatterIn = (block: number) => pairScatter(levels[low], levels[low + 1], shape, common, block);
    const [single, blocks] = [scatterIn(1), scatterIn(BLOCK)];
    const noiseIn = (scatter: Scatter, wanted: number) =>
      bandsHz.map((centre) => {
        const [from, end] = pointsAround(frequencyHz, centre, common, wanted);
        const share = (power: Float64Array) => meanOf(power, from, end);
        const ratio = share(shape) / share(powers[low]) + share(shape) / share(powers[low + 1]);
        return scatter.mean(from, end) / (DB2_PER_RATIO * ratio);
      });
    fine.push(noiseIn(single, WANTED_POINTS));
    coarse.push(noiseIn(blocks, WANTED_POINTS * BLOCK));
  }
  const smoothedOver = smoothness(fine, coarse, common[1] - common[0]);
  return {
    smoothedOver,
    bands: bandsHz.map((centre, band) => ({
      power: (smoothedOver * fine.reduce((sum, row) => sum + row[band], 0)) / pairs,
      points: Math.max(WANTED_POINTS, bandPoints(frequencyHz, bandAround(centre, 3)).effective) / 2,
      dependence: 1,
    })),
  };
}

interface Scatter {
  /** Mean over points from..end of (second difference)^2 in units of 1/shape. */
  mean(from: number, end: number): number;
}

function pairScatter(
  low: number[],
  high: number[],
  shape: Float64Array,
  [start, stop]: [number, number],
  block: number,
): Scatter {
  const count = Math.floor((stop - start) / block);
  const difference = new Float64Array(count);
  const variance = new Float64Array(count);
  for (let j = 0; j < count; j++) {
    for (let i = start + j * block; i < start + (j + 1) * block; i++) {
      difference[j] += (high[i] - low[i]) / block;
      variance[j] += 1 / (shape[i] * block);
    }
  }
  // per point: a mean over n free points has 1/n of their variance
  const sums = new Float64Array(count);
  for (let j = 1; j < count; j++) {
    const inside = j < count - 1;
    const second = inside ? difference[j] - 0.5 * (difference[j - 1] + difference[j + 1]) : 0;
    const expected = inside ? variance[j] + 0.25 * (variance[j - 1] + variance[j + 1]) : 1;
    sums[j] = sums[j - 1] + (block * second * second) / expected;
  }
  return {
    mean: (from, end) => {
      const a = Math.max(0, Math.min(count - 3, Math.floor((from - start) / block)));
      const b = Math.min(count - 2, Math.max(a + 1, Math.ceil((end - start) / block) - 1));
      return (sums[b] - sums[a]) / (b - a);
    },
  };
}

/** Median over bands and pairs of what blocks show more than single points; 1 where that may be chance. */
function smoothness(fine: number[][], coarse: number[][], points: number): number {
  if (points < 8 * BLOCK) return 1;
  const ratios = fine.flatMap((row, pair) => row.map((value, band) => coarse[pair][band] / value));
  ratios.sort((a, b) => a - b);
  const median = ratios[ratios.length >> 1];
  return median > 2 ? median : 1;
}

function pointsAround(
  frequencyHz: number[],
  centreHz: number,
  [start, stop]: [number, number],
  wanted: number,
): [number, number] {
  const [low, high] = bandAround(centreHz, 3);
  let from = start;
  while (from < stop - 1 && frequencyHz[from] < low) from++;
  let end = from + 1;
  while (end < stop && frequencyHz[end] <= high) end++;
  while (end - from < wanted && (from > start || end < stop)) {
    if (from > start) from--;
    if (end < stop) end++;
  }
  return [from, end];
}

function levelsOn(frequencyHz: number[], curve: Curve): number[] {
  if (sameGrid(curve.frequencyHz, frequencyHz)) return curve.levelDb;
  return interpolate(curve.frequencyHz, curve.levelDb, frequencyHz);
}

function commonRange(rungs: Rung[], frequencyHz: number[]): [number, number] {
  const low = Math.max(...rungs.map(({ curves: [curve] }) => curve.frequencyHz[0]));
  const high = Math.min(...rungs.map(({ curves: [curve] }) => curve.frequencyHz[curve.frequencyHz.length - 1]));
  const start = frequencyHz.findIndex((hz) => hz >= low);
  const after = frequencyHz.findIndex((hz) => hz > high);
  return [start < 0 ? frequencyHz.length : start, after < 0 ? frequencyHz.length : after];
}

function meanOf(power: Float64Array, from: number, end: number): number {
  let sum = 0;
  for (let i = from; i < end; i++) sum += power[i];
  return sum / (end - from);
}
