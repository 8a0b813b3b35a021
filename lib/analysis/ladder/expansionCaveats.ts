import type { Caveat } from '../../model/caveat';
import { makeCaveat } from '../../words/makeCaveat';
import type { Cells, Rung } from './cells';
import type { Compression } from './read/countCompression';

/** Expansion is spoken of beyond this, dB (a tenth of the usual step), and beyond so many standard deviations. */
const EXPANSION_DB = 0.3;
const SIGMAS = 3.5;

/**
 * Say where rungs give more than their drive, beyond what chance and a larger step account for.
 *
 * @param excess share by which the true step is known to exceed the one that was counted with, >= 0. @param matters bands of
 * which it is a doubt; of others it is a remark.
 */
export function expansionCaveats(
  rungs: Rung[],
  cells: Cells,
  compression: Compression,
  excess: number,
  matters: boolean[],
): Caveat[] {
  const { lossDb, deviationDb, trusted } = compression;
  const gives = (rung: number, band: number) => {
    const gained = -lossDb[rung][band] - excess * cells.driveDb[rung];
    return trusted[rung][band] && gained > Math.max(EXPANSION_DB, SIGMAS * deviationDb[rung][band]);
  };
  const found = rungs.flatMap((_, rung) =>
    cells.bandsHz.flatMap((hz, band) => (gives(rung, band) ? [{ rung, hz, db: -lossDb[rung][band] }] : [])),
  );
  if (found.length === 0) return [];
  const worst = found.reduce((most, one) => (one.db > most.db ? one : most));
  const bandsHz = cells.bandsHz.filter((hz) => found.some((one) => one.hz === hz));
  const driveDb = rungs.filter((_, rung) => found.some((one) => one.rung === rung)).map((rung) => rung.driveDb);
  const values = { label: rungs[worst.rung].label, mostDb: worst.db, rungs: driveDb.length };
  const severity = bandsHz.some((hz) => matters[cells.bandsHz.indexOf(hz)]) ? 'doubt' : 'remark';
  return [makeCaveat('ladder-expansion', severity, values, { curve: rungs[worst.rung].id, bandsHz, driveDb })];
}
