import type { Curve, Interval } from '../../model/curve';
import { powersOf } from '../../model/decibel';
import type { Ladder } from '../../model/findings';
import { bandAround } from '../../model/octaves';
import { powerIntegral } from '../../response/powerIntegral';
import { type BandPoints, bandPoints } from './bandPoints';
import { type BandNoise, type Cells, type Rung, table } from './cells';
import { sameGrid } from './sameGrid';

/** Signal-to-noise ratios beyond this are not told apart (numbers without noise would give infinity), dB. */
const MOST_SNR_DB = 120;
/** A grid that ends on a band's edge holds that band, whatever the last bit says. */
const EDGE = 1e-9;
const DB_PER_SHARE = 10 / Math.LN10;

/**
 * Read every band of every rung: level without noise, signal-to-noise ratio, and how far noise may have moved the level.
 *
 * @param rungs lowest first. @param bandsHz third-octave centres. @param noiseOf noise of a rung, one for each band.
 *
 * Notes: a band mean P = sum w_i P_i of signal and complex Gaussian noise N scatters with the variance
 * sum w_i^2 (2 P_i N); the uncertainty of N itself is added. The level is 10 lg (P - N).
 */
export function measureCells(rungs: Rung[], bandsHz: number[], noiseOf: (rung: number) => BandNoise[]): Cells {
  const size = [rungs.length, bandsHz.length] as const;
  const driveDb = rungs.map((rung) => rung.driveDb - rungs[0].driveDb);
  const cells = { bandsHz, driveDb, ...blank(size) };
  const edges = bandsHz.map((centre) => bandAround(centre, 3));
  const pointsIn = pointsOf(edges);
  rungs.forEach(({ curves }, rung) => {
    const readers = curves.map((curve) => bandReader(curve, pointsIn(curve)));
    noiseOf(rung).forEach((noise, band) => {
      const read = readers.map((reader) => reader(edges[band], noise, band));
      const power = read.reduce((sum, one) => sum + one.power, 0) / read.length;
      const variance = read.reduce((sum, one) => sum + one.variance, 0) / read.length ** 2;
      const known = Number.isFinite(noise.power);
      const noisePower = known ? Math.max(noise.power, power * 10 ** (-MOST_SNR_DB / 10)) : 0;
      const signal = power - noisePower;
      if (!(signal > 0)) return;
      cells.levelDb[rung][band] = DB_PER_SHARE * Math.log(signal);
      if (!known) return;
      cells.snrDb[rung][band] = DB_PER_SHARE * Math.log(signal / noisePower);
      const total = variance + noisePower ** 2 / noise.points;
      cells.errorDb[rung][band] = (DB_PER_SHARE * Math.sqrt(total)) / signal;
      cells.snrErrorDb[rung][band] = DB_PER_SHARE * Math.hypot(Math.sqrt(total) / signal, 1 / Math.sqrt(noise.points));
    });
  });
  return cells;
}

/** What signal-to-noise ratios can rest on, with the noise of each rung. */
export interface NoiseSource {
  from: Ladder['snrFrom'];
  of: (rung: number) => BandNoise[];
}

function bandReader({ frequencyHz, levelDb }: Curve, points: BandPoints[]) {
  const integral = powerIntegral(frequencyHz, levelDb);
  const powers = powersOf(levelDb);
  const lowest = frequencyHz[0] * (1 - EDGE);
  const highest = frequencyHz[frequencyHz.length - 1] * (1 + EDGE);
  return (edges: Interval, noise: BandNoise, band: number) => {
    if (edges[0] < lowest || edges[1] > highest) return { power: Number.NaN, variance: Number.NaN };
    const { from, weights } = points[band];
    let crossed = 0;
    for (let i = 0; i < weights.length; i++) crossed += weights[i] * weights[i] * powers[from + i];
    return { power: integral.mean(...edges), variance: 2 * noise.dependence * noise.power * crossed };
  };
}

/** The points of each band, found once for all curves of one grid. */
function pointsOf(edges: Interval[]): (curve: Curve) => BandPoints[] {
  const known: { grid: number[]; points: BandPoints[] }[] = [];
  return ({ frequencyHz }) => {
    const same = known.find(({ grid }) => sameGrid(grid, frequencyHz));
    if (same) return same.points;
    const points = edges.map((band) => bandPoints(frequencyHz, band));
    known.push({ grid: frequencyHz, points });
    return points;
  };
}

function blank([rungs, bands]: readonly [number, number]) {
  const unknown = () => table(rungs, bands, () => Number.NaN);
  return { levelDb: unknown(), snrDb: unknown(), snrErrorDb: unknown(), errorDb: unknown() };
}
