import type { Curve, Interval } from '../../model/curve';
import { levelOf, powerOf } from '../../model/decibel';
import { isInside } from '../../response/intervals';
import { powerIntegral } from '../../response/powerIntegral';
import { pointScatterDb } from './pointScatterDb';

/** A curve thinned out to about even steps in log frequency, ready to be fitted. */
export interface LogSamples {
  hz: Float64Array;
  levelDb: Float64Array;
  /** Noise power in the same sample, 10^(dB/10); 0 where it is not known. */
  noisePower: Float64Array;
  /** What the sample scatters by chance, dB. */
  scatterDb: Float64Array;
  /** Octaves that the sample stands for. */
  octaves: Float64Array;
}

/** Cells this wide, in parts of an octave. */
export const SAMPLES_PER_OCTAVE = 16;

/**
 * Thin a curve out to at most 16 samples per octave.
 *
 * @param curve any curve. @param rangeHz only points inside. @param masksHz only points outside.
 * @returns the mean power of every 1/16-octave cell that holds three points or more, and the single points of others:
 * so fits weigh octaves, not points, whatever the grid, and a sparse grid is not smoothed.
 */
export function logSamples(curve: Curve, rangeHz: Interval, masksHz: readonly Interval[]): LogSamples {
  const { frequencyHz: f, levelDb, noiseDb } = curve;
  const signal = powerIntegral(f, levelDb);
  const noise = noiseDb && powerIntegral(f, noiseDb);
  const scatter = pointScatterDb(curve);
  const rows: number[][] = [];
  for (const cell of cells(f, rangeHz, masksHz)) {
    const [from, to] = [cell[0], cell[cell.length - 1]];
    if (cell.length >= 3) {
      const [low, high] = [f[from], f[to]];
      const spread = cell.reduce((sum, i) => sum + scatter[i] ** 2, 0) / cell.length ** 2;
      rows.push([
        0.5 * (low + high),
        signal.meanDb(low, high),
        noise ? noise.mean(low, high) : 0,
        Math.sqrt(spread),
        1 / SAMPLES_PER_OCTAVE,
      ]);
      continue;
    }
    for (const i of cell) {
      const width = 0.5 * Math.log2((f[i + 1] ?? f[i]) / (f[i - 1] ?? f[i]));
      rows.push([f[i], levelDb[i], noiseDb ? powerOf(noiseDb[i]) : 0, scatter[i], width]);
    }
  }
  const column = (k: number) => Float64Array.from(rows, (row) => row[k]);
  return { hz: column(0), levelDb: column(1), noisePower: column(2), scatterDb: column(3), octaves: column(4) };
}

/** Signal-to-noise ratio of each sample in dB, noise taken off; Infinity where it is not known. */
export function sampleSnrDb({ levelDb, noisePower }: LogSamples): Float64Array {
  return levelDb.map((level, i) => {
    return noisePower[i] > 0 ? levelOf(Math.max(powerOf(level) / noisePower[i] - 1, 1e-3)) : Number.POSITIVE_INFINITY;
  });
}

/** Unmasked points inside the range, by cell. */
function cells(f: number[], [low, high]: Interval, masksHz: readonly Interval[]): number[][] {
  const out: number[][] = [];
  let current = Number.NaN;
  for (let i = 0; i < f.length; i++) {
    if (f[i] < low || f[i] > high || isInside(f[i], masksHz)) {
      current = Number.NaN;
      continue;
    }
    const cell = Math.floor(Math.log2(f[i]) * SAMPLES_PER_OCTAVE);
    if (cell === current) out[out.length - 1].push(i);
    else out.push([i]);
    current = cell;
  }
  return out;
}
