import type { Caveat } from '../model/caveat';
import { levelOf, powerOf } from '../model/decibel';
import { makeCaveat } from '../words/makeCaveat';
import { middle } from './columnLook';
import { LINES_NAMED } from './lineNotes';
import type { Rows } from './readRows';

const MAY_BE_MISSING = 0.1;
/** Levels of one frequency that differ by more are rarely of one curve. The common step of a ladder. */
const UNLIKE_DB = 3;
/** Turns of direction for a row, up to which rows run on and start again rather than being in no order. Our own choice. */
const LONG_RUNS = 1 / 8;
/** Rows that show what order there is. */
const ENOUGH = 8;
/** From one frequency to the next: two octaves. */
const FAR = 4;

/**
 * Bring rows into the form of a curve: complete, frequencies strictly rising.
 *
 * @param rows as read; left alone. @param notes what was done is added here.
 *
 * Rows without phase (or noise) are dropped where they are at most a tenth of all, else that column is left out.
 * Rows of one frequency are averaged: levels as power, phases as the direction of the sum of the complex values.
 */
export function tidyRows(rows: Rows, notes: Caveat[]): Rows {
  let tidy = settleColumn(rows, 'phaseDeg', 'phase', notes);
  tidy = settleColumn(tidy, 'noiseDb', 'noise', notes);
  tidy = sortRows(tidy, notes);
  return mergeEqual(tidy, notes);
}

function settleColumn(rows: Rows, key: 'phaseDeg' | 'noiseDb', column: 'phase' | 'noise', notes: Caveat[]): Rows {
  const values = rows[key];
  if (!values) return rows;
  const missing: number[] = [];
  for (let i = 0; i < values.length; i++) if (Number.isNaN(values[i])) missing.push(i);
  if (missing.length === 0) return rows;
  const where = { lines: missing.slice(0, LINES_NAMED).map((i) => rows.lines[i]) };
  const [count, of] = [missing.length, values.length];
  if (count > MAY_BE_MISSING * of) {
    notes.push(makeCaveat('column-left-out', 'remark', { column, missing: count, of }, where));
    return { ...rows, [key]: undefined };
  }
  notes.push(makeCaveat('rows-dropped', 'remark', { count, of, why: `${column}-missing` }, where));
  const kept = Array.from(values.keys()).filter((i) => !Number.isNaN(values[i]));
  return pick(rows, kept);
}

function sortRows(rows: Rows, notes: Caveat[]): Rows {
  const kept = dropStrays(rows, notes);
  const f = kept.frequencyHz;
  let [firstDescent, descents, ascents] = [0, 0, 0];
  for (let i = 1; i < f.length; i++) {
    if (f[i] > f[i - 1]) ascents++;
    if (!(f[i] < f[i - 1])) continue;
    firstDescent ||= i;
    descents++;
  }
  if (!firstDescent) return kept;
  const turns = Math.min(descents, ascents);
  const where = { lines: [kept.lines[firstDescent]] };
  // Rows in no order at all are of one curve; those that run on and start again may be of several.
  notes.push(
    turns > 0 && (turns <= LONG_RUNS * f.length || (turns === 1 && f.length > 3))
      ? makeCaveat('rows-start-again', 'doubt', { turns }, where)
      : makeCaveat('rows-sorted', 'remark', {}, where),
  );
  const order = Uint32Array.from(f.keys()).sort((a, b) => f[a] - f[b] || a - b);
  return pick(kept, order);
}

/** Take out a row or two at the beginning or end out of order, where all others rise: numbers of something else. */
function dropStrays(rows: Rows, notes: Caveat[]): Rows {
  const f = rows.frequencyHz;
  if (f.length < ENOUGH) return rows;
  const isRising = (from: number, to: number) => {
    for (let i = from + 1; i < to; i++) if (!(f[i] >= f[i - 1])) return false;
    return true;
  };
  if (isRising(0, f.length)) return noteApart(rows, notes);
  for (const [from, to] of [
    [1, 0],
    [2, 0],
    [0, 1],
    [0, 2],
    [1, 1],
  ]) {
    if (!isRising(from, f.length - to)) continue;
    const kept = Array.from(f.keys()).slice(from, f.length - to);
    const lines = rows.lines.filter((_, i) => i < from || i >= f.length - to);
    notes.push(makeCaveat('rows-dropped', 'doubt', { count: from + to, of: f.length, why: 'out-of-order' }, { lines }));
    return noteApart(pick(rows, kept), notes);
  }
  return rows;
}

/** Doubt a first or last row far from the others. */
function noteApart(rows: Rows, notes: Caveat[]): Rows {
  const f = rows.frequencyHz;
  const end = f.length - 1;
  for (const [i, low, high] of [
    [0, f[0], f[1]],
    [end, f[end - 1], f[end]],
  ]) {
    if (high < FAR * low) continue;
    const steps = f.slice(1).flatMap((hz, k) => (hz > f[k] ? [hz - f[k]] : []));
    const ratios = f.slice(1).flatMap((hz, k) => (hz > f[k] ? [Math.log(hz / f[k])] : []));
    if (high - low < 8 * middle(steps) || Math.log(high / low) < 8 * middle(ratios)) continue;
    notes.push(makeCaveat('row-apart', 'doubt', { hz: f[i], db: rows.levelDb[i] }, { lines: [rows.lines[i]] }));
  }
  return rows;
}

function mergeEqual(rows: Rows, notes: Caveat[]): Rows {
  const f = rows.frequencyHz;
  const starts: number[] = [];
  for (let i = 0; i < f.length; i++) if (i === 0 || f[i] !== f[i - 1]) starts.push(i);
  if (starts.length === f.length) return rows;
  const merged: Rows = pick(rows, starts);
  let first: { firstHz: number; lines: number[] } | undefined;
  let [count, spreadDb] = [0, 0];
  starts.forEach((from, k) => {
    const to = starts[k + 1] ?? f.length;
    if (to - from === 1) return;
    count++;
    first ??= { firstHz: f[from], lines: rows.lines.slice(from, Math.min(to, from + LINES_NAMED)) };
    const levels = rows.levelDb.slice(from, to);
    spreadDb = Math.max(spreadDb, levels.reduce((a, b) => Math.max(a, b)) - levels.reduce((a, b) => Math.min(a, b)));
    merged.levelDb[k] = powerAverage(levels);
    if (rows.noiseDb && merged.noiseDb) merged.noiseDb[k] = powerAverage(rows.noiseDb.slice(from, to));
    if (rows.phaseDeg && merged.phaseDeg) merged.phaseDeg[k] = vectorPhase(levels, rows.phaseDeg.slice(from, to));
  });
  const { firstHz = 0, lines = [] } = first ?? {};
  notes.push(
    spreadDb > UNLIKE_DB
      ? makeCaveat('frequencies-merged-unlike', 'doubt', { count, firstHz, spreadDb }, { lines })
      : makeCaveat('frequencies-merged', 'remark', { count, firstHz }, { lines }),
  );
  return merged;
}

/** Equal values stay as they are, to the last bit. Loudest first out of the sum, so that nothing overflows. */
function powerAverage(levels: number[]): number {
  const top = levels.reduce((a, b) => Math.max(a, b));
  if (levels.every((level) => level === top)) return top;
  return top + levelOf(levels.reduce((sum, level) => sum + powerOf(level - top), 0) / levels.length);
}

function vectorPhase(levels: number[], phases: number[]): number {
  if (phases.every((phase) => phase === phases[0])) return phases[0];
  let x = 0;
  let y = 0;
  levels.forEach((level, i) => {
    const radians = (phases[i] * Math.PI) / 180;
    const amplitude = Math.sqrt(powerOf(level));
    x += amplitude * Math.cos(radians);
    y += amplitude * Math.sin(radians);
  });
  return (Math.atan2(y, x) * 180) / Math.PI;
}

function pick(rows: Rows, order: ArrayLike<number>): Rows {
  const of = (column: number[]) => Array.from(order, (i) => column[i]);
  return {
    frequencyHz: of(rows.frequencyHz),
    levelDb: of(rows.levelDb),
    lines: of(rows.lines),
    ...(rows.phaseDeg && { phaseDeg: of(rows.phaseDeg) }),
    ...(rows.noiseDb && { noiseDb: of(rows.noiseDb) }),
  };
}
