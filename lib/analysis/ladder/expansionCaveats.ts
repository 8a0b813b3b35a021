import { bandNames } from './bandNames';
import type { Cells, Rung } from './cells';
import type { Compression } from './read/countCompression';

/** Expansion is spoken of beyond this, dB, and beyond so many standard deviations. */
const EXPANSION_DB = 0.3;
const SIGMAS = 3.5;

/**
 * Say where a rung gives more than its drive, beyond what chance and a larger step account for.
 *
 * @param excess share by which the true step is known to exceed the one that was counted with, >= 0.
 */
export function expansionCaveats(rungs: Rung[], cells: Cells, compression: Compression, excess: number): string[] {
  return rungs.flatMap(({ label }, rung) => {
    const { lossDb, deviationDb, trusted } = compression;
    const bands = cells.bandsHz.flatMap((_, band) => {
      const gained = -lossDb[rung][band] - excess * cells.driveDb[rung];
      const limit = Math.max(EXPANSION_DB, SIGMAS * deviationDb[rung][band]);
      return trusted[rung][band] && gained > limit ? [band] : [];
    });
    if (bands.length === 0) return [];
    const most = Math.max(...bands.map((band) => -lossDb[rung][band]));
    return [
      `'${label}' gives up to ${most.toFixed(1)} dB more than its drive (expansion) at ${bandNames(cells.bandsHz, bands)}.`,
    ];
  });
}
