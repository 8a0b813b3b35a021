import type { Cells } from '../cells';

/** Below this signal-to-noise ratio nothing is trusted, dB. */
export const TRUSTED_SNR_DB = 10;
/** ... and it must be above that by so many of its own standard deviations, for it rests on few points. */
const SNR_SIGMAS = 1.5;
/** Nor where noise may have moved the level by more than this (standard deviation), dB: a band of one or two points. */
const TRUSTED_ERROR_DB = 0.7;

/** Whether the level of a cell stands clear of the noise; not where the noise is unknown. */
export function isClear({ levelDb, snrDb, snrErrorDb, errorDb }: Cells, rung: number, band: number): boolean {
  return (
    Number.isFinite(levelDb[rung][band]) &&
    snrDb[rung][band] - SNR_SIGMAS * snrErrorDb[rung][band] >= TRUSTED_SNR_DB &&
    errorDb[rung][band] <= TRUSTED_ERROR_DB
  );
}
