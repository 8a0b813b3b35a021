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
  /** What the noise may have made of it (standard deviation), dB. */
  errorDb: number[];
}

/** Read a step point by point; of repeats the first. */
export function stepPoints(lower: Rung, upper: Rung, noise: PointNoise): StepPoints {
  const [a, b] = [lower.curves[0], upper.curves[0]];
  const low = Math.max(a.frequencyHz[0], b.frequencyHz[0]);
  const high = Math.min(a.frequencyHz[a.frequencyHz.length - 1], b.frequencyHz[b.frequencyHz.length - 1]);
  const held = a.frequencyHz.flatMap((hz, i) => (hz >= low && hz <= high ? [i] : []));
  const frequencyHz = held.map((i) => a.frequencyHz[i]);
  const upperDb = interpolate(b.frequencyHz, b.levelDb, frequencyHz);
  const lowerDb = held.map((i) => a.levelDb[i]);
  return {
    range: [low, high],
    frequencyHz,
    differenceDb: upperDb.map((db, k) => db - lowerDb[k]),
    errorDb: frequencyHz.map((hz, k) =>
      Math.sqrt(DB2_PER_RATIO * noise(hz) * (powerOf(-lowerDb[k]) + powerOf(-upperDb[k]))),
    ),
  };
}

/** What the noise may have made of some points together, as a root mean square, dB. */
export function noiseAmong({ errorDb }: StepPoints, from: number, to: number): number {
  const squares = errorDb.slice(from, to + 1).map((error) => error ** 2);
  return Math.sqrt(squares.reduce((sum, value) => sum + value, 0) / squares.length);
}
