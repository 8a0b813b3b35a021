import type { Cells } from '../cells';
import type { StepCheck } from './checkStep';

/**
 * Take out of the levels what whole runs came out too loud or too soft by.
 *
 * @returns cells of the same shape; where nothing is known of a run its levels stay as they are.
 *
 * Notes: a run that is off in all bands alike was driven, or read, wrongly; a unit that compresses does not come back
 * with more drive. See `StepCheck.runGainDb`: what all bands lose for good with rising drive is no part of it.
 */
export function evenRuns(cells: Cells, { runGainDb }: StepCheck): Cells {
  return { ...cells, levelDb: cells.levelDb.map((row, rung) => row.map((level) => level - runGainDb[rung])) };
}
