import { powerOf } from '../../model/decibel';
import { bandAround } from '../../model/octaves';
import { TRUSTED_SNR_DB } from '../../response/caveatsFor';
import type { DistortionRung } from './collectTakes';
import { meanOf, readTake } from './takePowers';

/** What one rung shows in one band. Ratios are of powers, re the fundamental; NaN where not known. */
export interface DistortionCell {
  /** Power of the fundamental, its noise taken off where known. */
  fundamental: number;
  /** Of each order asked for, noise taken off where known. */
  harmonics: number[];
  /** Sum over the orders of THD that were measured here, noise taken off where known. */
  thd: number;
  /** The same with the noise left in: THD is at most this, on average. */
  most: number;
  noise: number;
  /** Whether THD stands out of the noise. */
  trusted: boolean;
  /** Orders of THD that were not measured here. */
  missing: number[];
  /** Whether any run of the rung reaches the whole band. */
  reached: boolean;
}

/** Power ratio of what is 10 dB above the noise. */
const CLEAR = powerOf(TRUSTED_SNR_DB);

/**
 * Read every band of every rung. Takes of one rung that reach the band are power-averaged, harmonics and fundamental each
 * on its own.
 *
 * @param bandsHz third-octave centres of the fundamental. @param orders all to be read. @param thdOrders those summed up.
 * @returns [rung][band].
 */
export function distortionCells(
  rungs: DistortionRung[],
  bandsHz: number[],
  orders: number[],
  thdOrders: number[],
): DistortionCell[][] {
  return rungs.map(({ takes }) => {
    const readers = takes.map(readTake);
    return bandsHz.map((centre) => {
      const band = bandAround(centre, 3);
      const reaching = readers.filter((reader) => [1, thdOrders[0]].every((order) => reader(order, band).power > 0));
      const read = (order: number) => meanOf(reaching.map((reader) => reader(order, band)));
      const base = read(1);
      const isBaseNoiseKnown = Number.isFinite(base.noise);
      const left = base.power - (isBaseNoiseKnown ? base.noise : 0);
      const isClear = left > 0 && (!isBaseNoiseKnown || left >= CLEAR * base.noise);
      const fundamental = left > 0 ? left : Number.NaN;
      const ratios = new Map(
        orders.map((order) => {
          const { power, noise } = read(order);
          return [order, { all: power / fundamental, noise: noise / fundamental }];
        }),
      );
      const lessNoise = (order: number) => {
        const { all, noise } = ratios.get(order)!;
        return Number.isNaN(noise) ? all : all - noise;
      };
      const measured = thdOrders.filter((order) => !Number.isNaN(ratios.get(order)!.all));
      const total = (of: (order: number) => number) =>
        measured.length > 0 ? measured.reduce((sum, order) => sum + of(order), 0) : Number.NaN;
      const thd = total(lessNoise);
      const noise = total((order) => ratios.get(order)!.noise);
      return {
        fundamental,
        harmonics: orders.map(lessNoise),
        thd,
        most: isClear ? total((order) => ratios.get(order)!.all) : Number.NaN,
        noise,
        // false also where the noise is not known
        trusted: isClear && thd > 0 && thd >= CLEAR * noise,
        missing: thdOrders.filter((order) => !measured.includes(order)),
        reached: reaching.length > 0,
      };
    });
  });
}
