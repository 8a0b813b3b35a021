import { interpolate } from '../../../model/interpolate';
import type { Rung } from '../cells';

/** Mean noise power at a frequency; 0 where it is not known. */
export type PointNoise = (hz: number) => number;

/** What a step does at each point of the lower run's grid that both runs hold. */
export interface StepPoints {
  frequencyHz: number[];
  /** Level of the upper less that of the lower run. */
  differenceDb: number[];
  /** What the noise may have made of it (standard deviation), dB. */
  errorDb: number[];
}

/** dB^2 of level variance for each unit of noise-to-signal power: (20/ln 10)^2 / 2. */
const DB2_PER_RATIO = (20 / Math.LN10) ** 2 / 2;

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
    frequencyHz,
    differenceDb: upperDb.map((db, k) => db - lowerDb[k]),
    errorDb: frequencyHz.map((hz, k) =>
      Math.sqrt(DB2_PER_RATIO * noise(hz) * (10 ** (-lowerDb[k] / 10) + 10 ** (-upperDb[k] / 10))),
    ),
  };
}
