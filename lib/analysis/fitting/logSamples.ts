import type { Curve, Interval } from '../../model/curve';
import { powerOf } from '../../model/decibel';
import { isInside } from '../../response/intervals';
import { powerIntegral } from '../../response/powerIntegral';
import { pointScatter } from './pointScatter';

/** A curve thinned out to about even steps in log frequency, ready to be fitted. */
export interface LogSamples {
  hz: Float64Array;
  levelDb: Float64Array;
  /** What the noise adds to the sample on average, as power, 10^(dB/10); 0 where it is not known. */
  noisePower: Float64Array;
  /** What the sample may be off by chance, dB. */
  scatterDb: Float64Array;
  /** Octaves that the sample stands for. */
  octaves: Float64Array;
}

/** Cells this wide, in parts of an octave. */
export const SAMPLES_PER_OCTAVE = 16;
/** How well a noise level is known from a single silent run, part of its power (1.4 dB). */
const NOISE_UNCERTAINTY = 0.35;

/**
 * Thin a curve out to at most 16 samples per octave.
 *
 * @param curve any curve. @param rangeHz only points inside. @param masksHz only points outside.
 * @returns the mean power of every 1/16-octave cell that holds three points or more, and the single points of others:
 * so fits weigh octaves, not points, whatever the grid, and a sparse grid is not smoothed.
 *
 * Noise adds its power N to the mean of many looks, but hardly anything to the level in dB of one (for a signal S the
 * mean of ln |S + n|^2 is ln S + E1(S/N)); to first order N (1 - 1/n) is added to n looks, and that is given.
 */
export function logSamples(curve: Curve, rangeHz: Interval, masksHz: readonly Interval[]): LogSamples {
  const { frequencyHz: f, levelDb, noiseDb } = curve;
  const signal = powerIntegral(f, levelDb);
  const noise = noiseDb && powerIntegral(f, noiseDb);
  const scatter = pointScatter(curve);
  const rows: number[][] = [];
  const add = (hz: number, level: number, noisePower: number, cell: number[], octaves: number) => {
    let [spread, looks] = [0, 0];
    for (const i of cell) {
      spread += (scatter.db[i] / cell.length) ** 2;
      looks += scatter.looks[i];
    }
    const uncertain = (10 / Math.LN10) * NOISE_UNCERTAINTY * (noisePower / powerOf(level));
    rows.push([hz, level, noisePower * (1 - 1 / looks), Math.hypot(Math.sqrt(spread), uncertain), octaves]);
  };
  for (const cell of cells(f, rangeHz, masksHz)) {
    if (cell.length >= 3) {
      const [low, high] = [f[cell[0]], f[cell[cell.length - 1]]];
      add(
        0.5 * (low + high),
        signal.meanDb(low, high),
        noise ? noise.mean(low, high) : 0,
        cell,
        1 / SAMPLES_PER_OCTAVE,
      );
      continue;
    }
    for (const i of cell) {
      const width = 0.5 * Math.log2((f[i + 1] ?? f[i]) / (f[i - 1] ?? f[i]));
      add(f[i], levelDb[i], noiseDb ? powerOf(noiseDb[i]) : 0, [i], width);
    }
  }
  const column = (k: number) => Float64Array.from(rows, (row) => row[k]);
  return { hz: column(0), levelDb: column(1), noisePower: column(2), scatterDb: column(3), octaves: column(4) };
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
