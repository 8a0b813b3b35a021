import { median } from '../../fitting/median';
import { type Cells, pickRungs } from '../cells';
import { commonGains } from '../gains/commonGains';
import { findReferences } from '../read/findReferences';
import { expectSteps } from './expectSteps';
import { findSlip } from './findSlip';
import { lastLow } from './lastLow';
import { readSteps, type StepFit } from './readSteps';

/** How the rungs of a ladder fit each other; all by index. */
export interface Structure {
  /** Rows of rungs that fit each other, lowest first, without those that are off. */
  rows: number[][];
  /** Neighbours that do not fit, with what the step between them does. */
  breaks: StepFit[];
  /** Single rungs that do not fit those around them, which fit each other. */
  off: number[];
  /** Neighbours that fit with their drives exchanged. */
  swapped: [number, number][];
}

interface Trial {
  rows: number[][];
  off: number[];
  swapped: [number, number][];
}

/** What an explanation costs, in squared sigmas of a mean band: one rung that is off explains with less than a break. */
const OFF_COST = 4;
const SWAP_COST = 5;
const BREAK_COST = 6;
/** A row that ends in a low run leaves something unexplained. */
const LOW_COST = 3;
/** A step with no more bands than this share off by 0.8 dB is no place for a break. */
const ODD_SHARE = 0.2;
const ODD_DB = 0.8;
/** What runs are taken to scatter by as a whole, at least and at most, dB (careful and careless work; common practice, no source). */
const SCATTER_DB = [0.1, 0.35] as const;
/** Lower quartile of the size of a normal deviate. */
const QUARTILE = 0.319;
/** Steps may all arrive larger than commanded by this share: then the step is wrong, not the order of the rungs. */
const MOST_EXTRA = 0.5;

/**
 * Find where neighbouring rungs of a ladder do not fit each other, and the simplest explanation: a break between two, one
 * rung that is off, two that are swapped.
 *
 * @param cells the ladder. @param ids of the rungs; equal ones hold the same numbers.
 * @param changed of each rung: whether its points differ from those of the rung before as no noise makes them.
 *
 * Notes: from below, the first step that no unit can make is explained by what leaves the least misfit in the whole
 * ladder; repeated until all steps fit.
 */
export function findBreaks(cells: Cells, ids: string[], changed: boolean[]): Structure {
  const all = ids.map((_, rung) => rung);
  const scatterDb = scatterOf(cells);
  const extra = extraShare(cells);
  const copies = findCopies(cells, ids);
  const apart = ids.map((_, rung) => copies[rung] || changed[rung]);
  const read = (row: number[]) => readSteps(cells, row, scatterDb, extra, apart);
  let trial: Trial = { rows: [all], off: [], swapped: [] };
  for (let round = 0; round < 2 * ids.length; round++) {
    const place = firstUnfit(trial.rows, read);
    if (!place) break;
    const candidates = explain(trial, place, cells, ids);
    trial = candidates.reduce((best, one) => (costOf(one, read, cells) < costOf(best, read, cells) ? one : best));
  }
  trial = { ...trial, rows: trial.rows.flatMap((row) => partAtSlips(cells, row)) };
  const joints = trial.rows.slice(1).map((row, r) => [last(trial.rows[r]), row[0]]);
  return { ...trial, breaks: joints.map((pair) => readSteps(cells, pair, scatterDb, extra, apart)[0]) };
}

/** Part a row where its common gain slips by less than single steps show. */
function partAtSlips(cells: Cells, row: number[]): number[][] {
  const part = pickRungs(cells, row);
  const { gainDb } = commonGains(part, findReferences(part));
  const joined = row.map((_, i) => i).filter((i) => Number.isFinite(gainDb[i]));
  const at = findSlip(
    joined.map((i) => part.driveDb[i]),
    joined.map((i) => gainDb[i]),
  );
  if (at === null) return [row];
  const end = joined[at];
  return [...partAtSlips(cells, row.slice(0, end)), ...partAtSlips(cells, row.slice(end))];
}

function firstUnfit(rows: number[][], read: (row: number[]) => StepFit[]) {
  for (let r = 0; r < rows.length; r++) {
    const steps = read(rows[r]);
    const t = steps.findIndex((step) => !step.fits);
    if (t >= 0) return { r, t, steps };
  }
  return null;
}

/** What may be behind an unfit step t of row r. */
function explain(
  trial: Trial,
  { r, t, steps }: { r: number; t: number; steps: StepFit[] },
  cells: Cells,
  ids: string[],
): Trial[] {
  const row = trial.rows[r];
  const withRow = (...parts: number[][]): number[][] => [
    ...trial.rows.slice(0, r),
    ...parts,
    ...trial.rows.slice(r + 1),
  ];
  const broken = (at: number): Trial => ({ ...trial, rows: withRow(row.slice(0, at + 1), row.slice(at + 1)) });
  const without = (...rungs: number[]) => row.filter((rung) => !rungs.includes(rung));
  const candidates: Trial[] = [broken(t)];
  if (t > 0 && isOdd(steps[t - 1])) candidates.push(broken(t - 1));
  for (const at of [t, t + 1]) {
    // the first and the last of a row have nothing on the other side that could show them to be off
    if (at > 0 && at < row.length - 1 && (at < row.length - 2 || leadsOverIt(cells, row)))
      candidates.push({ ...trial, rows: withRow(without(row[at])), off: [...trial.off, row[at]] });
  }
  for (const at of [t - 1, t, t + 1]) {
    if (at < 0 || at + 1 >= row.length || row.length < 4) continue;
    const [a, b] = [row[at], row[at + 1]];
    if (ids[a] === ids[b]) continue;
    const levelDb = [...cells.levelDb];
    [levelDb[a], levelDb[b]] = [levelDb[b], levelDb[a]];
    const exchanged = readSteps({ ...cells, levelDb }, row, SCATTER_DB[0], 0, []);
    // at the top a softer run fits with either drive: there it must lie where the others lead
    if (at + 2 === row.length && !leadsOn({ ...cells, levelDb }, row)) continue;
    if (exchanged.slice(Math.max(0, at - 1), at + 2).every((step) => step.fits))
      candidates.push({ ...trial, rows: withRow(without(a, b)), swapped: [...trial.swapped, [a, b]] });
  }
  return isOdd(steps[t]) || candidates.length === 1 ? candidates : candidates.slice(1);
}

/** Of the bands that leave their course at the last rung but one, so many must be back on it at the last for that to be right. */
const BACK_SHARE = 0.75;

/** Whether the last rung of a row goes on where those below its last but one lead. One above alone is no witness otherwise. */
function leadsOverIt(cells: Cells, row: number[]): boolean {
  const [top, off, before, beforeThat] = [...row].reverse();
  const expected = expectSteps(cells);
  const back = expected(beforeThat, before, top);
  const left = expected(beforeThat, before, off).flatMap(({ offDb, allowedDb }, band) =>
    Math.abs(offDb) > allowedDb && Number.isFinite(back[band].offDb) ? [band] : [],
  );
  const returned = left.filter((band) => Math.abs(back[band].offDb) <= back[band].allowedDb);
  return left.length > 0 && returned.length >= BACK_SHARE * left.length;
}

/** Whether most bands of the last two rungs lie where those below lead. */
function leadsOn(cells: Cells, row: number[]): boolean {
  const [top, below, before, beforeThat] = [...row].reverse();
  const expected = expectSteps(cells);
  const steps = [...expected(beforeThat, before, below), ...expected(before, below, top)];
  const known = steps.filter(({ offDb }) => Number.isFinite(offDb));
  return known.filter(({ offDb, allowedDb }) => Math.abs(offDb) <= allowedDb).length >= BACK_SHARE * known.length;
}

function isOdd({ offDb, fits }: StepFit): boolean {
  const known = offDb.filter(Number.isFinite);
  return (
    known.filter((off) => Math.abs(off) > ODD_DB).length > ODD_SHARE * known.length || (!fits && known.length === 0)
  );
}

function costOf({ rows, off, swapped }: Trial, read: (row: number[]) => StepFit[], cells: Cells): number {
  const misfit = rows.reduce((sum, row) => sum + read(row).reduce((total, step) => total + step.cost, 0), 0);
  const low = rows.filter((row) => lastLow(cells, row) !== null).length;
  // one rung off is likelier than a break, many are not
  const offs = OFF_COST * off.length + off.length * (off.length - 1);
  return misfit + offs + SWAP_COST * swapped.length + BREAK_COST * (rows.length - 1) + LOW_COST * low;
}

/** Noise that would change some digit of a second take, dB. */
const QUIET_DB = 0.002;

/**
 * Which rungs hold the numbers of the rung before. A unit that stands still after it had begun to give less may do
 * that, where there is no noise.
 */
function findCopies(cells: Cells, ids: string[]): boolean[] {
  const copies = ids.map(() => false);
  for (let rung = 1; rung < ids.length; rung++) {
    const isQuiet = cells.errorDb[rung].every((error) => !(error > QUIET_DB));
    const givesWay = rung > 1 && isQuiet && !copies[rung - 1] && hasLost(cells, rung - 1);
    copies[rung] = ids[rung] === ids[rung - 1] && !givesWay;
  }
  return copies;
}

/** Whether three quarters of the bands lose a quarter of the step that leads to a rung. */
function hasLost({ driveDb, levelDb, bandsHz }: Cells, rung: number): boolean {
  const step = driveDb[rung] - driveDb[rung - 1];
  const lost = bandsHz.filter((_, band) => levelDb[rung][band] - levelDb[rung - 1][band] < 0.75 * step);
  return lost.length >= 0.75 * bandsHz.length;
}

/** Scatter of whole runs, from how unequal neighbouring steps are; the quieter steps tell, the others may be limits. */
function scatterOf(cells: Cells): number {
  const offs = middleSteps(cells);
  const bends = offs.slice(1).flatMap((off, i) => {
    const ratio = off.stepDb / offs[i].stepDb;
    const size = Math.abs(off.offDb - ratio * offs[i].offDb) / Math.sqrt(2 + 2 * ratio + 2 * ratio ** 2);
    return Number.isFinite(size) ? [size] : [];
  });
  if (bends.length < 4) return SCATTER_DB[0];
  bends.sort((a, b) => a - b);
  return Math.min(SCATTER_DB[1], Math.max(SCATTER_DB[0], bends[Math.floor((bends.length - 1) / 4)] / QUARTILE));
}

function extraShare(cells: Cells): number {
  const shares = middleSteps(cells)
    .map(({ offDb, stepDb }) => offDb / stepDb)
    .filter(Number.isFinite)
    .sort((a, b) => a - b);
  if (shares.length < 2) return 0;
  return Math.min(MOST_EXTRA, Math.max(0, shares[(shares.length - 1) >> 1]));
}

/** Of each step of the whole ladder, what the middle band is off by. */
function middleSteps(cells: Cells): { offDb: number; stepDb: number }[] {
  const rungs = cells.driveDb.map((_, rung) => rung);
  return readSteps(cells, rungs, SCATTER_DB[0], 0, []).map(({ from, to, offDb }) => ({
    offDb: median(offDb.filter(Number.isFinite)),
    stepDb: cells.driveDb[to] - cells.driveDb[from],
  }));
}

const last = (row: number[]): number => row[row.length - 1];
