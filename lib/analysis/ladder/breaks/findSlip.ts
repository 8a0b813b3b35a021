import { EXPECTED_SCATTER_DB } from '../gains/fitSharedGain';
import { fitCommonLoss, shiftAt, squaresOfLine } from '../gains/otherReasons';

/** With fewer rungs a slip and a step that differs are the same. */
const FEWEST = 4;
/** Scatter expected before any is seen weighs as much as so many runs. */
const EXPECTED_WEIGHT = 2;
/** A slip counts from so many of its standard deviations on ... */
const SIGMAS = 4.5;
/** ... where it explains more than a step that differs, and more than a common loss, by so many squared sigmas. */
const BETTER = 9;

/**
 * Find where the common gain slips once and for good by less than single steps show.
 *
 * @param x drive of the rungs that share bands, dB. @param y common gain of each, dB.
 * @returns index of the first rung beyond the slip; null where none is shown.
 */
export function findSlip(x: number[], y: number[]): number | null {
  if (x.length < FEWEST) return null;
  const off = y.map((gain, i) => gain - x[i]);
  const best = shiftAt(off);
  const scatter = Math.sqrt(
    (best.squares + EXPECTED_WEIGHT * EXPECTED_SCATTER_DB ** 2) / (x.length - 2 + EXPECTED_WEIGHT),
  );
  // what only the last run lacks may be its limit
  if (best.shiftDb < 0 && best.at === x.length - 1) return null;
  const others = Math.min(squaresOfLine(x, off), fitCommonLoss(x, off).squares);
  const error = scatter * Math.sqrt(1 / best.at + 1 / (x.length - best.at));
  return Math.abs(best.shiftDb) > SIGMAS * error && others - best.squares > BETTER * scatter ** 2 ? best.at : null;
}
