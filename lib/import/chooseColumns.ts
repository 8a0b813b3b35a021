import type { Caveat } from '../model/caveat';
import { BassloomError } from '../model/errors';
import { refuse } from '../model/refuse';
import { makeCaveat } from '../words/makeCaveat';
import type { Dialect } from './dialect';
import { type Heading, isCalled } from './findHeading';
import type { ColumnKind, HeadingCell } from './headingWords';
import { NumberReader, saysNoNumber } from './numberReader';
import type { CheckedTextOptions } from './textOptions';

/** Which column (counted from 0) holds what. */
export interface Columns {
  frequency: number;
  level: number;
  phase?: number;
  noise?: number;
}

const KINDS: ColumnKind[] = ['frequency', 'level', 'phase', 'noise'];

/**
 * Choose the columns: as asked for, else by heading, else by their order (frequency, level, phase),
 * leaving out a leading column that only counts the rows.
 *
 * @param rows the first rows of data. @param notes guesses are added here.
 * @throws BassloomError `column-not-found`, `one-column`, `contradictory-options`.
 */
export function chooseColumns(
  rows: string[][],
  dialect: Dialect,
  heading: Heading | undefined,
  options: CheckedTextOptions,
  notes: Caveat[],
): Columns {
  const numeric = numericColumns(rows, dialect);
  const chosen: Partial<Columns> = {};
  for (const kind of KINDS) {
    const asked = options.columns[kind];
    if (asked !== undefined) chosen[kind] = askedColumn(asked, kind, heading, rows, options.called);
  }
  const isAsked = Object.keys(chosen).length > 0;
  for (const kind of KINDS) chosen[kind] ??= headedColumn(kind, heading?.cells ?? [], numeric, Object.values(chosen));
  const byOrder = numeric.filter((column) => !Object.values(chosen).includes(column) && !heading?.cells[column]?.kind);
  if (chosen.frequency === undefined && chosen.level === undefined) dropCounter(byOrder, rows, dialect, notes);
  chosen.frequency ??= byOrder.shift();
  chosen.level ??= byOrder.shift();
  if (!heading && !isAsked && byOrder.length > 0) chosen.phase = byOrder[0];
  if (chosen.frequency === undefined || chosen.level === undefined) {
    if (numeric.length === 0) refuse('nothing-numeric', options.called, 'no column holds numbers in most rows.');
    refuse(
      'one-column',
      options.called,
      'one column of numbers found; a frequency and a level are needed.',
      heading?.line,
    );
  }
  if (chosen.frequency === chosen.level) {
    throw new BassloomError(
      'contradictory-options',
      `${options.called}: column ${chosen.frequency + 1} cannot be both the frequency and the level.`,
      { field: 'columns' },
    );
  }
  const columns = JSON.parse(JSON.stringify(chosen)) as Columns;
  notes.push(columnsChosen(columns, heading, numeric));
  return columns;
}

function numericColumns(rows: string[][], dialect: Dialect): number[] {
  const reader = new NumberReader(dialect.decimal);
  const width = rows.reduce((most, cells) => Math.max(most, cells.length), 0);
  const columns: number[] = [];
  for (let column = 0; column < width; column++) {
    const numbers = rows.filter((cells) => !Number.isNaN(reader.read(cells[column] ?? ''))).length;
    const missing = rows.filter((cells) => saysNoNumber(cells[column] ?? '')).length;
    if (numbers > 0 && numbers + missing > 0.5 * rows.length) columns.push(column);
  }
  return columns;
}

function askedColumn(
  asked: string | number,
  kind: ColumnKind,
  heading: Heading | undefined,
  rows: string[][],
  called: string,
): number {
  const field = `columns.${kind}`;
  const byName = heading?.cells.findIndex((cell) => isCalled(cell, String(asked))) ?? -1;
  if (byName >= 0 && typeof asked === 'string') return byName;
  const width = rows.reduce((most, cells) => Math.max(most, cells.length), 0);
  const isNumber = typeof asked === 'number' || /^\s*\d{1,6}\s*$/.test(asked);
  if (isNumber && Number(asked) >= 1 && Number(asked) <= width) return Number(asked) - 1;
  const found = heading
    ? `the headings in line ${heading.line} are ${heading.cells
        .slice(0, 20)
        .map((cell) => `'${cell.text.slice(0, 60)}'`)
        .join(', ')}`
    : 'no headings were found';
  throw new BassloomError(
    'column-not-found',
    `${called}: there is no column '${asked}' for the ${kind}; there are ${width} columns, and ${found}. Give one of them, by heading or by number from 1.`,
    { field },
  );
}

function headedColumn(kind: ColumnKind, cells: HeadingCell[], numeric: number[], taken: number[]): number | undefined {
  const fits = (cell: HeadingCell, column: number) =>
    cell.kind === kind && !taken.includes(column) && (numeric.includes(column) || kind === 'phase' || kind === 'noise');
  const named = cells.findIndex((cell, column) => fits(cell, column) && !cell.byUnit);
  const column = named >= 0 ? named : cells.findIndex(fits);
  return column >= 0 ? column : undefined;
}

/** A first column 1, 2, 3 .. before a second one that rises is a count of the rows, where a third follows. */
function dropCounter(byOrder: number[], rows: string[][], dialect: Dialect, notes: Caveat[]): void {
  if (byOrder.length < 3 || rows.length < 8) return;
  const reader = new NumberReader(dialect.decimal);
  const column = (k: number) => rows.map((cells) => reader.read(cells[byOrder[k]] ?? ''));
  const [count, next] = [column(0), column(1)];
  const counts = count[0] <= 1 && count.every((value, i) => value === count[0] + i);
  const rises = next[0] > 0 && next.every((value, i) => i === 0 || value > next[i - 1]);
  if (!counts || !rises) return;
  notes.push(makeCaveat('row-numbers-left-out', 'remark', { column: byOrder[0] + 1 }));
  byOrder.shift();
}

function columnsChosen(columns: Columns, heading: Heading | undefined, numeric: number[]): Caveat {
  const numberOf = (kind: ColumnKind) => (columns[kind] === undefined ? null : columns[kind] + 1);
  const headingOf = (kind: ColumnKind) =>
    (columns[kind] !== undefined && heading?.cells[columns[kind]]?.text.slice(0, 60)) || null;
  const unused = numeric.filter((column) => !Object.values(columns).includes(column)).map((column) => column + 1);
  return makeCaveat(
    'columns-chosen',
    'remark',
    {
      frequency: columns.frequency + 1,
      frequencyHeading: headingOf('frequency'),
      level: columns.level + 1,
      levelHeading: headingOf('level'),
      phase: numberOf('phase'),
      phaseHeading: headingOf('phase'),
      noise: numberOf('noise'),
      noiseHeading: headingOf('noise'),
      unused: unused.length > 0 ? unused.slice(0, 10).join(', ') : null,
    },
    heading && { lines: [heading.line] },
  );
}
