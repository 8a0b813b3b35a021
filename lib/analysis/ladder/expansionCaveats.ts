import type { Caveat } from '../../model/caveat';
import { makeCaveat } from '../../words/makeCaveat';
import type { Cells, Rung } from './cells';
import type { Compression } from './read/countCompression';

/** Expansion is spoken of beyond this, dB (a tenth of the usual step), and beyond so many standard deviations. */
const EXPANSION_DB = 0.3;
const SIGMAS = 3.5;

/**
 * Say where a rung gives more than its drive, beyond what chance and a larger step account for.
 *
 * @param excess share by which the true step is known to exceed the one that was counted with, >= 0.
 */
export function expansionCaveats(rungs: Rung[], cells: Cells, compression: Compression, excess: number): Caveat[] {
  return rungs.flatMap(({ id, label }, rung) => {
    const { lossDb, deviationDb, trusted } = compression;
    const bands = cells.bandsHz.flatMap((_, band) => {
      const gained = -lossDb[rung][band] - excess * cells.driveDb[rung];
      const limit = Math.max(EXPANSION_DB, SIGMAS * deviationDb[rung][band]);
      return trusted[rung][band] && gained > limit ? [band] : [];
    });
    if (bands.length === 0) return [];
    const mostDb = Math.max(...bands.map((band) => -lossDb[rung][band]));
    const where = { curve: id, bandsHz: bands.map((band) => cells.bandsHz[band]) };
    return [makeCaveat('ladder-expansion', 'doubt', { label, mostDb }, where)];
  });
}
