import { median } from '../../fitting/median';
import { type Cells, table } from '../cells';
import { offMiddle } from './nameBreaks';
import { errorOf, stepOff } from './readSteps';

/** A cell is off by this, dB, and by so many standard deviations of noise and runs ... */
const OFF_DB = 1;
const SIGMAS = 5;
const RUNS_DB = 0.25;
/** ... and at the last rung, where no rung above speaks, by this, dB. */
const LAST_DB = 1.5;
/** What a neighbouring band shows of it, as a share, bears it out. */
const BORNE_OUT = 0.5;

/**
 * Find single cells that no unit gives: louder than the rung below and the drive allow and gone with the next rung, or
 * softer than the rungs around; at the last rung louder than the drive allows, or falling, where no neighbouring band is.
 *
 * @param row rungs that fit each other. @returns [rung][band], dB off; 0 where nothing is odd.
 */
export function findOddCells(cells: Cells, row: number[]): number[][] {
  const bands = cells.bandsHz.map((_, band) => band);
  const found = table(cells.driveDb.length, bands.length, () => 0);
  row.slice(1).forEach((rung, i) => {
    const [below, above] = [row[i], row[i + 2]];
    const offs = above === undefined ? offLast(cells, below, rung) : offInside(cells, below, rung, above);
    for (const band of bands) {
      const error = [below, rung, above ?? rung].map((one) => errorOf(cells, one, band));
      const limit = Math.max(above === undefined ? LAST_DB : OFF_DB, SIGMAS * Math.hypot(RUNS_DB, ...error));
      if (Math.abs(offs[band]) > limit) found[rung][band] = offs[band];
    }
  });
  return found;
}

function offInside(cells: Cells, below: number, rung: number, above: number): number[] {
  const rise = cells.driveDb[above] - cells.driveDb[rung];
  const off = (from: number, to: number) => {
    const all = cells.bandsHz.map((_, band) => stepOff(cells, from, to, band));
    const known = all.filter(Number.isFinite);
    // what the run as a whole is off by is no matter of single cells
    const whole = known.length > 0 ? Math.max(0, median(known)) : 0;
    return all.map((one) => one - whole);
  };
  const [up, down] = [off(below, rung), off(rung, above)];
  return cells.bandsHz.map((_, band) => {
    const louder = Math.max(Math.min(up[band], -down[band]), -down[band] - rise);
    if (louder > OFF_DB) return louder;
    return Math.min(0, offMiddle(cells, [below, rung, above], band));
  });
}

function offLast(cells: Cells, below: number, rung: number): number[] {
  const rise = cells.driveDb[rung] - cells.driveDb[below];
  const offs = cells.bandsHz.map((_, band) => {
    const off = stepOff(cells, below, rung, band);
    return off > 0 ? off : Math.min(0, off + rise);
  });
  return offs.map((off, band) => {
    const near = [offs[band - 1], offs[band + 1]].some((other) => other * Math.sign(off) > BORNE_OUT * Math.abs(off));
    return Number.isFinite(off) && !near ? off : 0;
  });
}
