import type { Caveat } from '../model/caveat';
import { makeCaveat } from '../words/makeCaveat';
import { makeRefusal } from '../words/makeRefusal';
import { asNumbered } from '../words/numbered';
import { askedColumn } from './askedColumn';
import { type ColumnLook, lookAt, looksLikeComplex, looksLikeLevels, looksLikePhase } from './columnLook';
import type { Dialect } from './dialect';
import type { Heading } from './findHeading';
import { frequencyColumn } from './frequencyColumn';
import type { ColumnKind } from './headingUnits';
import { NumberReader, saysNoNumber } from './numberReader';
import type { CheckedTextOptions } from './textOptions';

/** Which column (counted from 0) holds what. */
export interface Columns {
  frequency: number;
  level: number;
  phase?: number;
  noise?: number;
}

/** The columns, and how each of the text looks. */
export interface ChosenColumns {
  columns: Columns;
  looks: ColumnLook[];
}

/** How the columns look, and which of them hold numbers. */
export interface ColumnLooks {
  looks: ColumnLook[];
  numeric: number[];
}

const KINDS: ColumnKind[] = ['frequency', 'level', 'phase', 'noise'];

/**
 * Choose the columns: as asked for, else by heading, else by what their numbers look like.
 *
 * Without a heading the frequency is the column that rises from row to row, the level the first one beside it, and the
 * phase the next. What could be read otherwise is doubted.
 *
 * @param notes guesses are added here.
 * @throws BassloomError `column-not-found`, `one-column`, `no-level-column`, `contradictory-options`.
 */
export function chooseColumns(
  { looks, numeric }: ColumnLooks,
  heading: Heading | undefined,
  options: CheckedTextOptions,
  notes: Caveat[],
): Columns {
  if (numeric.length === 0) {
    throw makeRefusal('nothing-numeric', { label: options.called, delimiter: null, why: 'columns' });
  }
  const chosen: Partial<Columns> = {};
  for (const kind of KINDS) {
    const asked = options.columns[kind];
    if (asked !== undefined) chosen[kind] = askedColumn(asked, kind, heading, looks.length, options.called);
  }
  const isAsked = Object.keys(chosen).length > 0;
  const choice = new Choice(chosen, numeric, looks, heading, options.called, options.role === 'correction', notes);
  if (heading) choice.byHeading();
  choice.byLook(!heading && !isAsked);
  const { frequency, level } = chosen as Columns;
  if (frequency === level) {
    throw makeRefusal('contradictory-options', { label: options.called, column: frequency + 1 }, { field: 'columns' });
  }
  const columns = JSON.parse(JSON.stringify(chosen)) as Columns;
  notes.push(columnsChosen(columns, heading, numeric));
  return columns;
}

/** Look at all columns. @param first the first rows in a row, which show what counts them. */
export function lookAtColumns({ rows, numbers, decimal }: Dialect, first: string[][]): ColumnLooks {
  const reader = new NumberReader(decimal);
  const width = rows.reduce((most, cells) => Math.max(most, cells.length), 0);
  const numeric: number[] = [];
  const looks: ColumnLook[] = [];
  for (let column = 0; column < width; column++) {
    const look = lookAt(
      numbers.map((row) => row[column] ?? Number.NaN),
      first.map((cells) => reader.read(cells[column] ?? '')),
    );
    const isMissing = (cells: string[], i: number) =>
      !(numbers[i][column] <= Number.POSITIVE_INFINITY) && saysNoNumber(cells[column] ?? '');
    const missing = rows.filter(isMissing).length;
    if (look.values.length > 0 && look.values.length + missing > 0.5 * rows.length) numeric.push(column);
    looks.push(look);
  }
  return { numeric, looks };
}

class Choice {
  constructor(
    private readonly chosen: Partial<Columns>,
    private readonly numeric: number[],
    private readonly looks: ColumnLook[],
    private readonly heading: Heading | undefined,
    private readonly called: string,
    private readonly isCorrection: boolean,
    private readonly notes: Caveat[],
  ) {}

  /** What the heading names; a level among several only with a doubt. */
  byHeading(): void {
    for (const kind of KINDS) {
      const named = this.named(kind);
      if (this.chosen[kind] !== undefined || named.length === 0) continue;
      this.chosen[kind] = named[0];
      if (kind === 'level' || kind === 'phase') this.doubtOthers(kind, named);
    }
  }

  /** Columns that the heading says are of a kind, those first that it says so by name. */
  private named(kind: ColumnKind): number[] {
    const cells = this.heading?.cells ?? [];
    const isPossible = (column: number) =>
      cells[column]?.kind === kind &&
      !this.isTaken(column) &&
      (this.numeric.includes(column) || kind === 'phase' || kind === 'noise');
    const all = [...cells.keys()].filter(isPossible);
    const byName = all.filter((column) => !cells[column].byUnit);
    const best = byName.length > 0 ? byName : all;
    const inDecibels = best.filter((column) => cells[column].unit === 'dB');
    const isToldApart = inDecibels.length === 1 && best.every((column) => cells[column].unit);
    return kind === 'level' && isToldApart ? inDecibels : best;
  }

  /** What is still open, by what the numbers look like. @param isOpen nothing says what any column is. */
  byLook(isOpen: boolean): void {
    const free = this.numeric.filter((column) => !this.isTaken(column) && !this.heading?.cells[column]?.kind);
    const leave = (column: number) => free.splice(free.indexOf(column), 1);
    if (this.chosen.frequency === undefined) {
      const { taken, counter, doubt } = frequencyColumn(free, this.looks, isOpen);
      if (doubt) this.notes.push(doubt);
      this.chosen.frequency = taken ?? this.refuse();
      leave(this.chosen.frequency);
      if (counter !== undefined) {
        this.notes.push(makeCaveat('row-numbers-left-out', 'remark', { column: counter + 1 }));
        leave(counter);
      }
    }
    if (this.chosen.level === undefined) {
      const counter = free.length > 1 && !this.heading ? free.find((column) => this.looks[column].counts) : undefined;
      if (counter !== undefined) leave(counter);
      this.chosen.level = free.shift() ?? this.refuse();
      if (this.heading) this.doubtOthers('level', [this.chosen.level, ...free]);
      else if (isOpen && free.length > 0) this.phaseBeside(this.chosen.level, free);
    }
  }

  /** The column after the level is the phase; a doubt where it does not run as one. */
  private phaseBeside(level: number, free: number[]): void {
    const phase = free[0];
    this.chosen.phase = phase;
    const [levels, phases] = [this.looks[level], this.looks[phase]];
    const isSure = looksLikePhase(phases, this.isCorrection) && !looksLikeComplex(levels, phases);
    if (!isSure) this.notes.push(makeCaveat('phase-column-unsure', 'doubt', { level: level + 1, phase: phase + 1 }));
    this.doubtOthers('level', [level, ...free.slice(1).filter((column) => looksLikeLevels(this.looks[column]))]);
  }

  private isTaken(column: number): boolean {
    return Object.values(this.chosen).includes(column);
  }

  private doubtOthers(kind: 'level' | 'phase', columns: number[]): void {
    if (columns.length < 2) return;
    const values = { kind, taken: columns[0] + 1, others: numbersOf(columns.slice(1)) };
    this.notes.push(makeCaveat('columns-alike', 'doubt', values, this.heading && { lines: [this.heading.line] }));
  }

  private refuse(): never {
    const { heading, called } = this;
    if (this.numeric.length < 2) {
      throw makeRefusal('one-column', { label: called, delimiter: null }, { line: heading?.line });
    }
    const names = heading?.cells.slice(0, 20).map((cell) => cell.text.slice(0, 60)) ?? [];
    throw makeRefusal('no-level-column', { label: called, ...asNumbered({ heading: names }) }, { line: heading?.line });
  }
}

function numbersOf(columns: number[]): string {
  return columns
    .slice(0, 10)
    .map((column) => column + 1)
    .join(', ');
}

function columnsChosen(columns: Columns, heading: Heading | undefined, numeric: number[]): Caveat {
  const numberOf = (kind: ColumnKind) => (columns[kind] === undefined ? null : columns[kind] + 1);
  const headingOf = (kind: ColumnKind) =>
    (columns[kind] !== undefined && heading?.cells[columns[kind]]?.text.slice(0, 60)) || null;
  const unused = numeric.filter((column) => !Object.values(columns).includes(column));
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
      unused: unused.length > 0 ? numbersOf(unused) : null,
    },
    heading && { lines: [heading.line] },
  );
}
