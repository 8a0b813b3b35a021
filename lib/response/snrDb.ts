import type { Curve } from '../model/curve';
import { levelOf, powerOf } from '../model/decibel';

/**
 * Signal-to-noise ratio of every point of a curve in dB, the noise power taken off the level first.
 *
 * @returns one value for each point, -Infinity where nothing is left above the noise; undefined where the noise is not
 * known. Single points scatter; smooth the curve first for a steady figure.
 *
 * @example
 * snrDb(makeCurve({ frequencyHz: [20, 40], levelDb: [80, 90], noiseDb: [77, 60] })) // [0.02, 30.0]
 */
export function snrDb({ levelDb, noiseDb }: Pick<Curve, 'levelDb' | 'noiseDb'>): number[] | undefined {
  return noiseDb && levelDb.map((level, i) => levelOf(Math.max(powerOf(level - noiseDb[i]) - 1, 0)));
}
