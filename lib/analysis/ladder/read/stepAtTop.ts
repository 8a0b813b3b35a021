import type { Cells } from '../cells';
import { isClear } from './isClear';

/** The last steps are those that make up this much drive, dB, as for limiting. */
const LAST_STEPS_DB = 1.5;
/** So much of them may be missing where a band still follows the drive; where chance may take more than twice that, nothing is shown. */
const MISSING = 0.3;
const SIGMAS = 2.5;
/** What is missing since the lowest rungs by this is lost, dB: the smallest onset that is commonly told. */
const LOST_DB = 1;

/** What the last steps of a band do: 'arrives', 'short' of what a band gains that follows the drive, or 'unknown'. */
export type TopStep = 'arrives' | 'short' | 'unknown';

/**
 * Say whether the last steps of a band arrive, by levels that stand clear of the noise; which rung its compression is counted
 * from plays no part in it.
 *
 * @param cells with the drive to be counted with. @param scatterDb of a cell from run to run, beside its noise. @param missingDb
 * what the band lacks since the reference rung, where that rung is not shown to have lost nothing: from 1 dB on it does not follow.
 */
export function stepAtTop(cells: Cells, band: number, scatterDb: number, missingDb: number): TopStep {
  const { driveDb, levelDb, errorDb } = cells;
  const top = driveDb.length - 1;
  if (!isClear(cells, top, band)) return 'unknown';
  const start = driveDb.findLastIndex(
    (drive, rung) => driveDb[top] - drive >= LAST_STEPS_DB && isClear(cells, rung, band),
  );
  if (start < 0) return 'unknown';
  const driven = driveDb[top] - driveDb[start];
  const missing = driven - (levelDb[top][band] - levelDb[start][band]);
  const chance = SIGMAS * Math.hypot(errorDb[top][band], errorDb[start][band], Math.SQRT2 * scatterDb);
  if (missing > Math.max(MISSING * driven, chance) || missingDb > Math.max(LOST_DB, chance)) return 'short';
  return chance <= 2 * MISSING * driven ? 'arrives' : 'unknown';
}
