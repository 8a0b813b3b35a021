import { median } from '../fitting/median';
import type { DistortionCell } from './distortionCells';

/** What a doubted cell reads, and what its neighbours make likely: powers re the fundamental. */
export interface Doubt {
  rung: number;
  band: number;
  thd: number;
  expected: number;
}

/**
 * Harmonics that get quieter by more than this as the drive rises (power ratio, 3 dB) are none of the unit's. Tuned on
 * 200 simulated sessions without and 103 with a disturbance.
 */
const QUIETER = 2;
/** At the highest drive nothing above tells: there a cell must be 15 dB above those beside it and the one below. */
const ALONE = 30;
/** THD below 0.3 % counts as that: what is below hardly matters. */
const LEAST = 0.003 ** 2;
/** Runs above that are asked. */
const RUNS_ABOVE = 2;

/**
 * Find cells that the cells around them do not bear out: harmonics that get quieter with more drive, or, at the highest
 * drive, distortion that neither the neighbouring bands nor the run below show. A door, a cough or a dropout in one run looks like
 * that; harmonics of a unit grow with drive, and change slowly over frequency.
 *
 * @param cells [rung][band], lowest drive first.
 *
 * Notes: THD may rise with drive as steeply as it likes, and stay; its share may fall as long as harmonics do not get
 * quieter (hum, and crossover distortion of an amplifier, stay as loud as they are). At the ends of the range a band has one neighbour only, and a unit's limit may be met there first:
 * there only what vanishes is doubted.
 */
export function doubtCells(cells: DistortionCell[][]): Doubt[] {
  const heard = (rung: number, band: number): number[] => {
    const cell = cells[rung]?.[band];
    // where noise hides THD it is known not to be more than harmonics and noise together
    const thd = cell?.trusted ? cell.thd : (cell?.most ?? Number.NaN);
    return Number.isFinite(thd) ? [Math.max(LEAST, thd)] : [];
  };
  const powerOf = (rung: number, band: number): number => cells[rung][band].fundamental;
  return cells.flatMap((row, rung) =>
    row.flatMap((cell, band): Doubt[] => {
      if (!cell.trusted) return [];
      const above = cells.flatMap((_, k) => (k > rung ? heard(k, band).map((thd) => ({ thd, k })) : []));
      const next = above.slice(0, RUNS_ABOVE);
      const below = heard(rung - 1, band);
      const beside = [...heard(rung, band - 1), ...heard(rung, band + 1)];
      const isFarAbove = (others: number[], times: number) => others.every((other) => cell.thd > times * other);
      const vanishes = next.some(({ thd, k }) => cell.thd * cell.fundamental > QUIETER * thd * powerOf(k, band));
      const isAlone =
        above.length === 0 && beside.length === 2 && below.length === 1 && isFarAbove([...beside, ...below], ALONE);
      if (!vanishes && !isAlone) return [];
      return [
        {
          rung,
          band,
          thd: cell.thd,
          expected: median(vanishes ? [...below, ...next.map((one) => one.thd)] : [...beside, ...below]),
        },
      ];
    }),
  );
}
