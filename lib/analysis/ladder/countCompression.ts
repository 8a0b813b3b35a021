import { type Cells, type Reference, table } from './cells';
import { REFERENCE_SNR_DB } from './findReferences';
import type { Proof } from './proveReferences';

/** Below this signal-to-noise ratio nothing is trusted, dB. */
export const TRUSTED_SNR_DB = 10;
/** Nor where noise may have moved the level by more than this (standard deviation), dB: a band of one or two points. */
const TRUSTED_ERROR_DB = 0.7;

/** Compression of every cell, with what it can be off by. */
export interface Compression {
  /** [rung][band], NaN below the reference rung and where no level is known. */
  lossDb: number[][];
  /** [rung][band], standard deviation by noise and by the scatter from run to run, dB; 0 at the reference. */
  deviationDb: number[][];
  trusted: boolean[][];
}

/**
 * Count the compression of every cell from the reference rung of its band, and say which cells can be trusted.
 *
 * @param cells with the drive to be counted with. @param runScatterDb standard deviation of one whole run.
 *
 * Notes: (level of the reference + drive difference) - level, nothing smoothed, nothing clipped.
 */
export function countCompression(
  cells: Cells,
  references: Reference[],
  proofs: Proof[],
  runScatterDb: number,
): Compression {
  const { driveDb, levelDb, snrDb, errorDb } = cells;
  const size = [driveDb.length, cells.bandsHz.length] as const;
  const from = (rung: number, band: number) => {
    const reference = references[band].rung;
    return reference === null || rung < reference ? null : reference;
  };
  return {
    lossDb: table(...size, (rung, band) => {
      const reference = from(rung, band);
      if (reference === null) return Number.NaN;
      if (reference === rung) return 0;
      return levelDb[reference][band] + (driveDb[rung] - driveDb[reference]) - levelDb[rung][band];
    }),
    deviationDb: table(...size, (rung, band) => {
      const reference = from(rung, band);
      if (reference === null) return Number.NaN;
      if (reference === rung) return 0;
      return Math.hypot(errorDb[reference][band], errorDb[rung][band], Math.SQRT2 * runScatterDb);
    }),
    trusted: table(
      ...size,
      (rung, band) =>
        snrDb[rung][band] >= TRUSTED_SNR_DB &&
        errorDb[rung][band] <= TRUSTED_ERROR_DB &&
        references[band].certain &&
        snrDb[references[band].rung ?? 0][band] >= REFERENCE_SNR_DB &&
        proofs[band] === 'proven',
    ),
  };
}
