import { median } from '../../fitting/median';
import type { Cells } from '../cells';
import { stepOff } from './readSteps';

/** The last run is low by this, dB, all bands alike within that, and the step before by no more than this share of it. */
const LOW_DB = 0.8;
const ALIKE_DB = 0.25;
const SHARE_BEFORE = 0.25;
const FEWEST_BANDS = 4;

/**
 * Whether the last rung of a row is low in all bands alike with no forewarning: a gain that slipped, or a limit of the
 * whole unit that sets in within one step. No rung above tells which.
 */
export function isLastLow(cells: Cells, row: number[]): boolean {
  if (row.length < 3) return false;
  const [before, below, top] = row.slice(-3);
  const offs = cells.bandsHz.map((_, band) => stepOff(cells, below, top, band)).filter(Number.isFinite);
  const earlier = cells.bandsHz.map((_, band) => stepOff(cells, before, below, band)).filter(Number.isFinite);
  if (offs.length < FEWEST_BANDS) return false;
  const low = median(offs);
  const spread = median(offs.map((off) => Math.abs(off - low)));
  return low < -LOW_DB && spread < ALIKE_DB && Math.abs(median(earlier)) < -SHARE_BEFORE * low;
}
