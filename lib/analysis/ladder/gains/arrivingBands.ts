import type { Cells } from '../cells';

/** Share of a step, and dB beside it, that may be missing where nothing compresses: a wrong step and scatter of runs. */
const ABOUT = 0.05;
const MISSING_DB = 0.5;
const SIGMAS = 2.5;

/** Find the bands whose first step above the reference rung is about what was commanded; all where there is no such band. */
export function arrivingBands({ bandsHz, driveDb, levelDb, errorDb }: Cells, references: (number | null)[]): boolean[] {
  const full = bandsHz.map((_, band) => {
    const from = references[band];
    if (from === null || from + 1 >= driveDb.length) return false;
    const step = driveDb[from + 1] - driveDb[from];
    const missing = step - (levelDb[from + 1][band] - levelDb[from][band]);
    const chance = SIGMAS * Math.hypot(errorDb[from][band] || 0, errorDb[from + 1][band] || 0);
    return missing <= ABOUT * step + Math.max(MISSING_DB, chance);
  });
  return full.some(Boolean) ? full : bandsHz.map(() => true);
}
