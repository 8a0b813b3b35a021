import { type Cells, table } from '../cells';
import { type Expected, expectSteps } from './expectSteps';
import { isClear } from './readSteps';

/** More cells of a band are not taken out, and none that does not take with it this share of what is impossible: what stays louder is no single cell. */
const MOST = 2;
const SOLVED = 0.5;

/**
 * Find single cells that no unit gives: where the levels of a band do what none does with rising drive, the cell is off without
 * which all others are possible.
 *
 * @param row rungs that fit each other. @returns [rung][band], dB off; 0 where nothing is odd.
 *
 * Notes: at the top a band often fits without the last cell and without the last but one. Then that is off without which
 * the rest goes on as it began; where neither does, both are, for neither can be told to be right.
 */
export function findOddCells(cells: Cells, row: number[]): number[][] {
  const found = table(cells.driveDb.length, cells.bandsHz.length, () => 0);
  const expected = expectSteps(cells);
  cells.bandsHz.forEach((_, band) => {
    let kept = row.filter((rung) => isClear(cells, rung, band));
    for (let taken = 0; taken < MOST && excess(expected, kept, band) > 0; ) {
      const off = whichOff(expected, kept, band);
      if (off.length === 0) break;
      const rest = kept.filter((rung) => !off.includes(rung));
      for (const rung of off) found[rung][band] = offBy(cells, expected, [...rest, rung], rung, band);
      taken += off.length;
      kept = rest;
    }
  });
  return found;
}

/** By how much all steps of a band together exceed what is possible, dB. */
function excess(expected: Expected, rungs: number[], band: number): number {
  return rungs.slice(1).reduce((sum, to, i) => sum + expected(rungs[i - 1], rungs[i], to)[band].excessDb, 0);
}

function whichOff(expected: Expected, rungs: number[], band: number): number[] {
  const trials = rungs.map((rung, at) => {
    const rest = rungs.filter((other) => other !== rung);
    return { rung, at, rest, excessDb: excess(expected, rest, band) };
  });
  const least = Math.min(...trials.map(({ excessDb }) => excessDb));
  if (least > (1 - SOLVED) * excess(expected, rungs, band)) return [];
  const best = trials.filter(({ excessDb }) => excessDb === least);
  const led = best.map(({ rung, at, rest }) => {
    // the step over the gap; at the top the last one left, at the bottom the first
    const to = Math.max(1, Math.min(at, rest.length - 1));
    const { offDb, allowedDb } = expected(rest[to - 2], rest[to - 1], rest[to])[band];
    return { rung, share: Math.abs(offDb) / allowedDb };
  });
  const likeliest = led.reduce((one, other) => (other.share < one.share ? other : one));
  return likeliest.share <= 1 ? [likeliest.rung] : best.map(({ rung }) => rung);
}

/** How far a cell lies off the line between those beside it; at the top off where those below lead. */
function offBy(cells: Cells, expected: Expected, rungs: number[], rung: number, band: number): number {
  const sorted = [...rungs].sort((a, b) => a - b);
  const at = sorted.indexOf(rung);
  const [before, below, above] = [sorted[at - 2], sorted[at - 1], sorted[at + 1]];
  const { driveDb, levelDb } = cells;
  if (above === undefined) return below === undefined ? 0 : expected(before, below, rung)[band].offDb;
  if (below === undefined) return -expected(undefined, rung, above)[band].offDb;
  const part = (driveDb[rung] - driveDb[below]) / (driveDb[above] - driveDb[below]);
  return levelDb[rung][band] - levelDb[below][band] - part * (levelDb[above][band] - levelDb[below][band]);
}
