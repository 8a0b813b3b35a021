import { type Cells, column, type Reference } from './cells';

/** Signal-to-noise ratio that a rung must have to be counted from, dB. */
export const REFERENCE_SNR_DB = 20;
/**
 * Standard deviation, by noise, that its level may have, dB. A third octave of sixteen points has 0.15 dB at 20 dB
 * signal-to-noise ratio, one of four points 0.3 dB: every compression of the band carries it.
 */
export const REFERENCE_ERROR_DB = 0.12;

/**
 * Find the rung of each band that compression is counted from: the lowest with 20 dB signal-to-noise ratio whose level
 * is certain to 0.12 dB (bands of few points need more than 20 dB for that).
 *
 * @returns for each band; where none is certain enough the lowest with 20 dB; where the noise is not known the lowest.
 */
export function findReferences(cells: Cells): Reference[] {
  return cells.bandsHz.map((_, band) => {
    const snr = column(cells.snrDb, band);
    const error = column(cells.errorDb, band);
    const certain = snr.findIndex((db, rung) => db >= REFERENCE_SNR_DB && error[rung] <= REFERENCE_ERROR_DB);
    if (certain >= 0) return { rung: certain, certain: true };
    const loud = snr.findIndex((db) => db >= REFERENCE_SNR_DB);
    if (loud >= 0) return { rung: loud, certain: false };
    const silent = snr.every(Number.isNaN) && Number.isFinite(cells.levelDb[0][band]);
    return { rung: silent ? 0 : null, certain: false };
  });
}
