import { type Cells, column } from '../cells';

/** Signal-to-noise ratio that a rung must have to be counted from, dB. */
export const REFERENCE_SNR_DB = 20;

/**
 * Find the rung of each band that compression is counted from: the lowest with 20 dB signal-to-noise ratio.
 *
 * @returns its index for each band; the lowest rung where the noise is not known; null where no rung is loud enough.
 */
export function findReferences(cells: Cells): (number | null)[] {
  return cells.bandsHz.map((_, band) => {
    const snr = column(cells.snrDb, band);
    const loud = snr.findIndex((db) => db >= REFERENCE_SNR_DB);
    if (loud >= 0) return loud;
    return snr.every(Number.isNaN) && Number.isFinite(cells.levelDb[0][band]) ? 0 : null;
  });
}
