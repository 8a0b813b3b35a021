import type { Curve, Interval } from '../../model/curve';
import { levelOf, powerOf } from '../../model/decibel';
import { interpolate } from '../../model/interpolate';
import { type PowerIntegral, powerIntegral } from '../../response/powerIntegral';
import type { Take } from './take';

/** Mean power over a band, and that of the noise in it; NaN where not known. */
export interface BandPower {
  power: number;
  noise: number;
}

/** Reads a band of a take: order 1 is the fundamental. */
export type TakeReader = (order: number, band: Interval) => BandPower;

/** A whole band may stick out of a grid by rounding. */
const SLACK = 1e-9;
const UNKNOWN: BandPower = { power: Number.NaN, noise: Number.NaN };

/**
 * Prepare a take for being read in bands of the fundamental.
 *
 * @returns a reader: mean power of the fundamental, or of a harmonic on the same scale. NaN where its curve does not
 * cover the whole band.
 *
 * Notes: a harmonic is turned into a level with the fundamental read at its points, so that a band's distortion is mean
 * harmonic power over mean fundamental power, and not the mean of a ratio that explodes in the fundamental's dips.
 */
export function readTake({ responses, harmonics }: Take): TakeReader {
  const own = responses.map((response) => readerOf(response, response.levelDb, response.noiseDb));
  const readers = new Map([[1, own]]);
  for (const [order, curves] of harmonics) {
    readers.set(
      order,
      curves.map((curve) => {
        const base = baseDb(responses, curve.frequencyHz);
        const lift = (ratioDb: number[]) => ratioDb.map((db, i) => db + base[i]);
        // beyond the response there is nothing to lift a ratio with
        const range = responses.map(rangeOf).reduce(overlap, rangeOf(curve));
        return readerOf(curve, lift(curve.levelDb), curve.noiseDb && lift(curve.noiseDb), range);
      }),
    );
  }
  return (order, band) => meanOf((readers.get(order) ?? []).map((read) => read(band)));
}

/** Means of several band powers; NaN for none, and where one is not known. */
export function meanOf(powers: BandPower[]): BandPower {
  const mean = (of: (one: BandPower) => number) => powers.reduce((sum, one) => sum + of(one), 0) / powers.length;
  return powers.length > 0 ? { power: mean((one) => one.power), noise: mean((one) => one.noise) } : UNKNOWN;
}

function readerOf({ frequencyHz }: Curve, levelDb: number[], noiseDb?: number[], within?: Interval) {
  const level = powerIntegral(frequencyHz, levelDb);
  const noise: PowerIntegral | undefined = noiseDb && powerIntegral(frequencyHz, noiseDb);
  const [low, high] = within ?? rangeOf({ frequencyHz });
  return (band: Interval): BandPower => {
    if (band[0] < low * (1 - SLACK) || band[1] > high * (1 + SLACK)) return UNKNOWN;
    return { power: level.mean(...band), noise: noise ? noise.mean(...band) : Number.NaN };
  };
}

/** Level of the fundamental at some frequencies, the power mean of several runs. */
function baseDb(responses: Curve[], atHz: number[]): number[] {
  const levels = responses.map(({ frequencyHz, levelDb }) => interpolate(frequencyHz, levelDb, atHz));
  if (levels.length === 1) return levels[0];
  return atHz.map((_, i) => levelOf(levels.reduce((sum, column) => sum + powerOf(column[i]), 0) / levels.length));
}

function rangeOf({ frequencyHz }: Pick<Curve, 'frequencyHz'>): Interval {
  return [frequencyHz[0], frequencyHz[frequencyHz.length - 1]];
}

function overlap(a: Interval, b: Interval): Interval {
  return [Math.max(a[0], b[0]), Math.min(a[1], b[1])];
}
