import { type Cells, table } from '../cells';
import type { StepCheck } from '../gains/checkStep';
import { isClear } from './isClear';
import type { Proof } from './proveReferences';
import type { ReferenceLevel } from './referenceLevels';

/** Compression of every cell, with what it can be off by. */
export interface Compression {
  /** [rung][band], NaN below the reference rung and where no level is known. */
  lossDb: number[][];
  /** [rung][band], standard deviation by noise and by the scatter from run to run, dB; 0 at the reference. */
  deviationDb: number[][];
  trusted: boolean[][];
}

/**
 * Count the compression of every cell from the reference level of its band, and say which cells can be trusted.
 *
 * @param cells with evened runs and the drive to be counted with.
 *
 * Notes: (level of the reference + drive difference) - level; nothing smoothed over rungs, nothing clipped.
 */
export function countCompression(
  cells: Cells,
  references: (number | null)[],
  levels: ReferenceLevel[],
  proofs: Proof[],
  { runErrorDb, slopeError, straight }: StepCheck,
  cellScatterDb: number,
): Compression {
  const { driveDb, levelDb, errorDb } = cells;
  const above = (value: (rung: number, band: number, from: number) => number) =>
    table(driveDb.length, cells.bandsHz.length, (rung, band) => {
      const from = references[band];
      if (from === null || rung < from) return Number.NaN;
      return rung === from ? 0 : value(rung, band, from);
    });
  return {
    lossDb: above((rung, band, from) => levels[band].levelDb + (driveDb[rung] - driveDb[from]) - levelDb[rung][band]),
    deviationDb: above((rung, band, from) =>
      Math.hypot(
        levels[band].errorDb,
        errorDb[rung][band],
        runErrorDb[from],
        runErrorDb[rung],
        Math.SQRT2 * cellScatterDb,
        // runs were evened to a line whose slope is uncertain
        straight[rung] ? slopeError * (driveDb[rung] - driveDb[from]) : 0,
      ),
    ),
    trusted: table(
      driveDb.length,
      cells.bandsHz.length,
      (rung, band) => isClear(cells, rung, band) && levels[band].certain && proofs[band] === 'proven',
    ),
  };
}
