import { levelOf, powerOf } from '../model/decibel';
import type { Rows } from './readRows';

const MAY_BE_MISSING = 0.1;
const FIRST = 5;

/**
 * Bring rows into the form of a curve: complete, frequencies strictly rising.
 *
 * @param rows as read; left alone. @param notes what was done is added here.
 *
 * Rows without phase (or noise) are dropped where they are at most a tenth of all, else that column is left out.
 * Rows of one frequency are averaged: levels as power, phases as the direction of the sum of the complex values.
 */
export function tidyRows(rows: Rows, notes: string[]): Rows {
  let tidy = settleColumn(rows, 'phaseDeg', 'phase', notes);
  tidy = settleColumn(tidy, 'noiseDb', 'noise', notes);
  tidy = sortRows(tidy, notes);
  return mergeEqual(tidy, notes);
}

function settleColumn(rows: Rows, key: 'phaseDeg' | 'noiseDb', called: string, notes: string[]): Rows {
  const column = rows[key];
  if (!column) return rows;
  const missing: number[] = [];
  for (let i = 0; i < column.length; i++) if (Number.isNaN(column[i])) missing.push(i);
  if (missing.length === 0) return rows;
  const lines = firstLines(missing.map((i) => rows.lines[i]));
  if (missing.length > MAY_BE_MISSING * column.length) {
    notes.push(
      `The ${called} column was left out: ${missing.length} of ${column.length} rows have no number there (${lines}).`,
    );
    return { ...rows, [key]: undefined };
  }
  notes.push(
    `${missing.length} row${missing.length === 1 ? '' : 's'} dropped: the ${called} is missing or no number (${lines}).`,
  );
  const kept = Array.from(column.keys()).filter((i) => !Number.isNaN(column[i]));
  return pick(rows, kept);
}

function sortRows(rows: Rows, notes: string[]): Rows {
  const f = rows.frequencyHz;
  let firstDescent = 0;
  for (let i = 1; i < f.length && !firstDescent; i++) if (f[i] < f[i - 1]) firstDescent = i;
  if (!firstDescent) return rows;
  notes.push(
    `Rows were sorted by frequency (the first to fall below the one before is in line ${rows.lines[firstDescent]}).`,
  );
  const order = Uint32Array.from(f.keys()).sort((a, b) => f[a] - f[b] || a - b);
  return pick(rows, order);
}

function mergeEqual(rows: Rows, notes: string[]): Rows {
  const f = rows.frequencyHz;
  const starts: number[] = [];
  for (let i = 0; i < f.length; i++) if (i === 0 || f[i] !== f[i - 1]) starts.push(i);
  if (starts.length === f.length) return rows;
  const merged: Rows = pick(rows, starts);
  const repeated: string[] = [];
  let count = 0;
  starts.forEach((from, k) => {
    const to = starts[k + 1] ?? f.length;
    if (to - from === 1) return;
    if (count++ < FIRST) repeated.push(`${f[from]} Hz in ${firstLines(rows.lines.slice(from, to))}`);
    const levels = rows.levelDb.slice(from, to);
    merged.levelDb[k] = powerAverage(levels);
    if (rows.noiseDb && merged.noiseDb) merged.noiseDb[k] = powerAverage(rows.noiseDb.slice(from, to));
    if (rows.phaseDeg && merged.phaseDeg) merged.phaseDeg[k] = vectorPhase(levels, rows.phaseDeg.slice(from, to));
  });
  const many = count === 1 ? '1 frequency appears' : `${count} frequencies appear`;
  notes.push(
    `${many} more than once; their levels were power-averaged (${repeated.join('; ')}${count > FIRST ? '; and more' : ''}).`,
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

function firstLines(lines: number[]): string {
  const more = lines.length > FIRST ? ' and more' : '';
  return `line${lines.length === 1 ? '' : 's'} ${lines.slice(0, FIRST).join(', ')}${more}`;
}
