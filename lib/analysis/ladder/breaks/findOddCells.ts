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
 * softer than the rungs around; at the last rung louder than the drive allows where no neighbouring band is, or falling at
 * once, with the bands beside.
 *
 * @param row rungs that fit each other. @returns [rung][band], dB off; 0 where nothing is odd.
 */
export function findOddCells(cells: Cells, row: number[]): number[][] {
  const bands = cells.bandsHz.map((_, band) => band);
  const found = table(cells.driveDb.length, bands.length, () => 0);
  const first = offFirst(cells, row);
  for (const band of bands) if (first[band] !== 0) found[row[0]][band] = first[band];
  row.slice(1).forEach((rung, i) => {
    const [below, above] = [row[i], row[i + 2]];
    const offs = above === undefined ? offLast(cells, row[i - 1], below, rung) : offInside(cells, below, rung, above);
    for (const band of bands) {
      const error = [below, rung, above ?? rung].map((one) => errorOf(cells, one, band));
      const chance = SIGMAS * Math.hypot(RUNS_DB, ...error);
      // beside bands that fall, less is odd
      const least = above !== undefined ? OFF_DB : offs[band] > 0 ? LAST_DB : 0;
      const limit = least > 0 ? Math.max(least, chance) : Math.hypot(RUNS_DB, ...error);
      if (i === 0 && first[band] !== 0) continue;
      if (Math.abs(offs[band]) > limit) found[rung][band] = offs[band];
    }
  });
  // a cell that is far off makes its neighbours in drive look off as well
  return found.map((cells, rung) => {
    const at = row.indexOf(rung);
    const beside = at < 0 ? [] : [row[at - 1], row[at + 1]].filter((other) => other !== undefined);
    return cells.map((off, band) => (beside.some((other) => Math.abs(found[other][band]) > Math.abs(off)) ? 0 : off));
  });
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

/** How far cells of the first rung are off the two above, which fit each other. */
function offFirst(cells: Cells, [first, second, third]: number[]): number[] {
  return cells.bandsHz.map((_, band) => {
    if (third === undefined) return 0;
    const [off, next] = [stepOff(cells, first, second, band), stepOff(cells, second, third, band)];
    const error = [first, second, third].map((rung) => errorOf(cells, rung, band));
    const limit = Math.max(LAST_DB, SIGMAS * Math.hypot(RUNS_DB, ...error));
    return Math.abs(off) > limit && Math.abs(next) < limit / 2 ? -off : 0;
  });
}

/** A step arrived if no more than this share of it is missing; what falls at once beside such steps is no limit. */
const ARRIVED = 0.3;

function offLast(cells: Cells, before: number | undefined, below: number, rung: number): number[] {
  const rise = cells.driveDb[rung] - cells.driveDb[below];
  const steps = cells.bandsHz.map((_, band) => stepOff(cells, below, rung, band));
  const arrived = cells.bandsHz.map((_, band) => {
    if (before === undefined) return false;
    return stepOff(cells, before, below, band) > -ARRIVED * (cells.driveDb[below] - cells.driveDb[before]);
  });
  const falls = steps.map((off) => off + rise < -LAST_DB);
  return steps.map((off, band) => {
    const near = [band - 1, band + 1];
    if (off > 0) return near.some((other) => steps[other] > BORNE_OUT * off) ? 0 : off;
    if (falls[band]) return off;
    const beside =
      arrived[band] && off < -ARRIVED * rise && [-2, -1, 1, 2].some((k) => falls[band + k] && arrived[band + k]);
    return beside ? off : 0;
  });
}
