import type { Curve } from '../../../model/curve';
import { powersOf } from '../../../model/decibel';
import { interpolate } from '../../../model/interpolate';
import { bandAround } from '../../../model/octaves';
import { bandPoints } from '../bandPoints';
import { type BandNoise, DB2_PER_RATIO, type Rung } from '../cells';
import { sameGrid } from '../sameGrid';
import { pairScatter } from './pairScatter';
import { type PairNoise, scatterDependence } from './scatterDependence';

/** Neighbouring pairs of rungs looked at, from the bottom. */
const PAIRS = 2;
/** How many rungs above a pair the curve is taken from that says where the signal is weak. */
const SHAPE_ABOVE = 3;
const FEWEST_POINTS = 5;
const WANTED_POINTS = 16;

export interface ScatterNoise {
  bands: BandNoise[];
  /** How many neighbouring points were found to move together, in the middle of the bands; 1 where they do not. */
  smoothedOver: number;
}

/**
 * Estimate the noise power in each band from how the lowest rungs differ from point to point.
 *
 * @param rungs lowest first. @param bandsHz third-octave centres.
 * @returns null where the curves have fewer than five points in common.
 *
 * Notes: between two rungs the room and the unit drop out and what changes from point to point is noise: in dB the
 * difference has the variance (20/ln 10)^2/2 (1/snr1 + 1/snr2), for complex Gaussian noise of one power in all rungs.
 * Second differences along frequency drop what changes smoothly (compression). Each is weighted by how strong the signal
 * is there, read from a higher rung, so that the room's dips do not count as noise. Curves of another grid are read
 * on straight lines. Smoothed curves scatter less than their noise: see `scatterDependence`.
 */
export function noiseFromScatter(rungs: Rung[], bandsHz: number[]): ScatterNoise | null {
  const frequencyHz = rungs[0].curves[0].frequencyHz;
  const lowest = rungs.slice(0, PAIRS + 1 + SHAPE_ABOVE).map(({ curves }) => curves[0]);
  const common = commonRange(lowest, frequencyHz);
  if (common[1] - common[0] < FEWEST_POINTS) return null;
  const levels = lowest.map((curve) => levelsOn(frequencyHz, curve));
  const powers = levels.map(powersOf);
  const pairs = Math.min(PAIRS, rungs.length - 1);
  /** For each pair of rungs and each band, from means over so many points. */
  const noiseBy = (block: number): PairNoise[][] =>
    Array.from({ length: pairs }, (_, low) => {
      const shape = powers[Math.min(low + 1 + SHAPE_ABOVE, powers.length - 1)];
      const scatterIn = pairScatter(levels[low], levels[low + 1], shape, common, block);
      return bandsHz.map((centre) => {
        const [from, end] = pointsAround(frequencyHz, centre, common, WANTED_POINTS * block);
        const share = (power: Float64Array) => meanOf(power, from, end);
        const ratio = share(shape) / share(powers[low]) + share(shape) / share(powers[low + 1]);
        const { squareDb, perNoise } = scatterIn(from, end);
        const octaves = blockOctaves(frequencyHz, centre, block);
        return { power: perNoise / (DB2_PER_RATIO * ratio), squareDb, octaves };
      });
    });
  const single = noiseBy(1);
  const dependence = scatterDependence(single, noiseBy, common[1] - common[0]);
  return {
    smoothedOver: [...dependence].sort((a, b) => a - b)[bandsHz.length >> 1],
    bands: bandsHz.map((centre, band) => ({
      power: (dependence[band] * single.reduce((sum, row) => sum + row[band].power, 0)) / pairs,
      points: Math.max(WANTED_POINTS, bandPoints(frequencyHz, bandAround(centre, 3)).effective) / 2,
      dependence: 1,
    })),
  };
}

/** How wide so many points are at a frequency. */
function blockOctaves(frequencyHz: number[], centreHz: number, block: number): number {
  const at = Math.max(
    0,
    Math.min(
      frequencyHz.length - 2,
      frequencyHz.findIndex((hz) => hz >= centreHz),
    ),
  );
  return block * Math.log2(frequencyHz[at + 1] / frequencyHz[at]);
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

/** Indices of the grid, start and one past the end, that all curves cover. */
function commonRange(curves: Curve[], frequencyHz: number[]): [number, number] {
  const low = Math.max(...curves.map((curve) => curve.frequencyHz[0]));
  const high = Math.min(...curves.map((curve) => curve.frequencyHz[curve.frequencyHz.length - 1]));
  const start = frequencyHz.findIndex((hz) => hz >= low);
  const after = frequencyHz.findIndex((hz) => hz > high);
  return [start < 0 ? frequencyHz.length : start, after < 0 ? frequencyHz.length : after];
}

function meanOf(power: Float64Array, from: number, end: number): number {
  let sum = 0;
  for (let i = from; i < end; i++) sum += power[i];
  return sum / (end - from);
}
