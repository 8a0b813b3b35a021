import type { Interval } from '../../../model/curve';
import { powerOf } from '../../../model/decibel';
import { interpolate } from '../../../model/interpolate';
import { bandAround } from '../../../model/octaves';
import { type BandNoise, DB2_PER_RATIO, type Rung } from '../cells';

/** Mean noise power at a frequency; 0 where it is not known. */
export type PointNoise = (hz: number) => number;

/** The noise of bands at any frequency. */
export function pointNoise(bandsHz: number[], noise: BandNoise[]): PointNoise {
  const tops = bandsHz.map((centre) => bandAround(centre, 3)[1]);
  return (hz) => noise[tops.findIndex((top) => hz <= top)]?.power || 0;
}

/** What a step does at each point of the lower run's grid that both runs hold. */
export interface StepPoints {
  /** What both runs hold, Hz. */
  range: Interval;
  frequencyHz: number[];
  /** Level of the upper less that of the lower run. */
  differenceDb: number[];
  /** Levels of both at these points, and the noise of one. */
  lowerDb: number[];
  upperDb: number[];
  noise: PointNoise;
}

/** Read a step point by point; of repeats the first. */
export function stepPoints(lower: Rung, upper: Rung, noise: PointNoise): StepPoints {
  const [a, b] = [lower.curves[0], upper.curves[0]];
  const low = Math.max(a.frequencyHz[0], b.frequencyHz[0]);
  const high = Math.min(a.frequencyHz[a.frequencyHz.length - 1], b.frequencyHz[b.frequencyHz.length - 1]);
  let from = 0;
  while (a.frequencyHz[from] < low) from++;
  let to = a.frequencyHz.length;
  while (a.frequencyHz[to - 1] > high) to--;
  const frequencyHz = a.frequencyHz.slice(from, Math.max(from, to));
  const upperDb = interpolate(b.frequencyHz, b.levelDb, frequencyHz);
  const lowerDb = a.levelDb.slice(from, Math.max(from, to));
  const differenceDb = upperDb.map((db, k) => db - lowerDb[k]);
  return { range: [low, high], frequencyHz, differenceDb, lowerDb, upperDb, noise };
}

/** First and last point inside a range; the first behind the last where there is none. */
export function pointsWithin(frequencyHz: number[], [lowHz, highHz]: Interval): [from: number, to: number] {
  return [countBelow(frequencyHz, (hz) => hz < lowHz), countBelow(frequencyHz, (hz) => hz <= highHz) - 1];
}

/** How many frequencies, which rise, the first of them being so, are below something: by halving. */
function countBelow(frequencyHz: number[], isBelow: (hz: number) => boolean): number {
  let [from, to] = [0, frequencyHz.length];
  while (from < to) {
    const middle = (from + to) >> 1;
    if (isBelow(frequencyHz[middle])) from = middle + 1;
    else to = middle;
  }
  return from;
}

/** What the noise may have made of one point (variance), dB^2; worked out where it is asked for, which is seldom. */
export function noiseVariance({ frequencyHz, lowerDb, upperDb, noise }: StepPoints, at: number): number {
  return DB2_PER_RATIO * noise(frequencyHz[at]) * (powerOf(-lowerDb[at]) + powerOf(-upperDb[at]));
}

/** What the noise may have made of some points together, as a root mean square, dB. */
export function noiseAmong(points: StepPoints, from: number, to: number): number {
  let sum = 0;
  for (let k = from; k <= to; k++) sum += noiseVariance(points, k);
  return Math.sqrt(sum / (to - from + 1));
}
