import { median } from '../../fitting/median';
import type { Cells } from '../cells';
import { expectSteps } from './expectSteps';

/** The last run is low by this, dB, so many of the bands by that or more (some may limit as well), so many alike within that, and the step before by no more than this share of it or what runs scatter by. */
const LOW_DB = 0.8;
const LOW_SHARE = 0.8;
const ALIKE_SHARE = 0.5;
const ALIKE_DB = 0.5;
const SHARE_BEFORE = 0.25;
const SCATTER_DB = 0.4;
const FEWEST_BANDS = 4;

/**
 * By how much the last rung of a row is low in all bands alike with no forewarning, dB; null where it is not: a gain that slipped, or a
 * limit of the whole unit that sets in within one step. No rung above tells which.
 */
export function lastLow(cells: Cells, row: number[]): number | null {
  if (row.length < 3) return null;
  const [top, below, before, beforeThat] = [...row].reverse();
  const expected = expectSteps(cells);
  const offsOf = (a: number | undefined, b: number, c: number) =>
    expected(a, b, c).flatMap(({ offDb }) => (Number.isFinite(offDb) ? [offDb] : []));
  const offs = offsOf(before, below, top);
  const earlier = offsOf(beforeThat, before, below);
  if (offs.length < FEWEST_BANDS) return null;
  const low = median(offs);
  const share = (is: (off: number) => boolean) => offs.filter(is).length / offs.length;
  const isShared =
    share((off) => off <= low + ALIKE_DB) >= LOW_SHARE &&
    share((off) => Math.abs(off - low) <= ALIKE_DB) >= ALIKE_SHARE;
  return low < -LOW_DB && isShared && Math.abs(median(earlier)) < Math.max(SCATTER_DB, -SHARE_BEFORE * low)
    ? low
    : null;
}
