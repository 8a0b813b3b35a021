import type { Interval } from '../../../model/curve';
import { bandAround } from '../../../model/octaves';
import { powerIntegral } from '../../../response/powerIntegral';
import { bandPoints } from '../bandPoints';
import type { BandNoise } from '../cells';
import { pointDependence } from './pointDependence';

const WANTED_POINTS = 10;
const WIDEST_OCTAVES = 3;

/**
 * Noise power in each band from one or several noise runs (or noise columns).
 *
 * @param runs frequency and level columns of equal length, on the scale of the responses.
 * @param bandsHz third-octave centres.
 * @returns power means over the runs; NaN where no run covers the band.
 *
 * Notes: a mean over n points of Gaussian noise scatters by 4.3/sqrt(n) dB, and one point reads 10 dB too low one time
 * in ten. Where fewer than ten points lie in a band, it is widened until they do (three octaves at most), and the larger of
 * both means counts: what errs, errs towards less trust.
 */
export function noiseFromRuns(runs: { frequencyHz: number[]; levelDb: number[] }[], bandsHz: number[]): BandNoise[] {
  const readers = runs.map(({ frequencyHz, levelDb }) => readerOf(frequencyHz, levelDb));
  return bandsHz.map((centre) => {
    const found = readers.map((read) => read(centre)).filter((noise) => noise !== null);
    const count = found.length || Number.NaN;
    return {
      power: found.reduce((sum, noise) => sum + noise.power, 0) / count,
      points: found.reduce((sum, noise) => sum + noise.points, 0),
      dependence: found.reduce((most, noise) => Math.max(most, noise.dependence), 1),
    };
  });
}

function readerOf(frequencyHz: number[], levelDb: number[]): (centreHz: number) => BandNoise | null {
  const integral = powerIntegral(frequencyHz, levelDb);
  const dependenceIn = pointDependence(frequencyHz, levelDb);
  const lowest = frequencyHz[0] * (1 - 1e-9);
  const highest = frequencyHz[frequencyHz.length - 1] * (1 + 1e-9);
  return (centreHz) => {
    const band = bandAround(centreHz, 3);
    if (band[0] < lowest || band[1] > highest) return null;
    const dependence = dependenceIn(bandAround(centreHz, 1));
    const own = integral.mean(...band);
    const points = bandPoints(frequencyHz, band).effective / dependence;
    if (points >= WANTED_POINTS) return { power: own, points, dependence };
    const wide = widen(frequencyHz, centreHz, WANTED_POINTS * dependence);
    return {
      power: Math.max(own, integral.mean(...wide)),
      points: Math.max(points, bandPoints(frequencyHz, wide).effective / dependence),
      dependence,
    };
  };
}

function widen(frequencyHz: number[], centreHz: number, wanted: number): Interval {
  const ends: Interval = [frequencyHz[0], frequencyHz[frequencyHz.length - 1]];
  for (let octaves = 0.5; ; octaves += 0.25) {
    const [low, high] = bandAround(centreHz, 1 / octaves);
    const wide: Interval = [Math.max(low, ends[0]), Math.min(high, ends[1])];
    if (octaves >= WIDEST_OCTAVES || bandPoints(frequencyHz, wide).effective >= wanted) return wide;
  }
}
