import type { WhyDropped } from '../words/en/importing';
import { makeRefusal } from '../words/makeRefusal';
import type { Columns } from './chooseColumns';
import { countCells, type Dialect } from './dialect';
import { looksLikeHeading } from './findHeading';
import type { LineNotes } from './lineNotes';
import { BLANKS, isComment, LONGEST_LINE, splitLine } from './lines';
import { NumberReader, saysNoNumber } from './numberReader';
import { PlainNumbers } from './plainNumbers';

/** Columns as read, in the order of the text, with the line of every row. Missing phases and noises are NaN. */
export interface Rows {
  frequencyHz: number[];
  levelDb: number[];
  phaseDeg?: number[];
  noiseDb?: number[];
  lines: number[];
}

/** What turns cells into Hz, dB and degrees. */
export interface RowRules {
  dialect: Dialect;
  columns: Columns;
  toHz: (value: number) => number;
  toDb: (value: number) => number;
  noiseToDb: (value: number) => number;
  toDeg: (value: number) => number;
  maxPoints: number;
  called: string;
  /** Line of the heading, above which there is no data, and how many cells it has; none without. */
  heading?: { line: number; cells: unknown[] };
}

const TEXT_LINES_READ = 200;
const LF = 10;

/**
 * Read all rows of a text.
 *
 * @param notes drops and repairs are added here, with their lines.
 * @returns the rows, and the decimal sign, which may have been open before, with the line that told it.
 * @throws BassloomError `too-many-points`, `too-many-lines`, `level-out-of-range`, `several-curves`.
 */
export function readRows(
  text: string,
  rules: RowRules,
  notes: LineNotes,
): { rows: Rows; decimal: '.' | ','; decimalLine: number } {
  return new RowsReader(text, rules, notes).read();
}

class RowsReader {
  private reader: NumberReader;
  private plain: PlainNumbers;
  private readonly rows: Rows;
  private readonly delimiter: string;
  private line = 1;
  private decimalLine = 0;
  private textLines = 0;
  private unread = 0;
  private secondHeading = 0;

  constructor(
    private readonly text: string,
    private readonly rules: RowRules,
    private readonly notes: LineNotes,
  ) {
    const { delimiter, decimal } = rules.dialect;
    this.delimiter = delimiter;
    this.reader = new NumberReader(decimal);
    this.plain = new PlainNumbers(text, delimiter, decimal);
    this.rows = {
      frequencyHz: [],
      levelDb: [],
      lines: [],
      ...(rules.columns.phase !== undefined && { phaseDeg: [] }),
      ...(rules.columns.noise !== undefined && { noiseDb: [] }),
    };
  }

  read(): { rows: Rows; decimal: '.' | ','; decimalLine: number } {
    const { text, rules } = this;
    const above = rules.heading?.line ?? 0;
    for (let from = 0; from < text.length; this.line++) {
      let to = text.charCodeAt(from) === LF ? from : text.indexOf('\n', from);
      if (to < 0) to = text.length;
      if (this.line > above) this.readLine(from, to);
      from = to + 1;
    }
    return { rows: this.rows, decimal: this.reader.decimal, decimalLine: this.decimalLine };
  }

  private readLine(from: number, to: number): void {
    if (to === from) return;
    if (to - from > LONGEST_LINE) this.notes.add('long-lines-dropped', this.line);
    else if (!this.readPlain(from, to)) this.readRow(splitLine(this.text.slice(from, to), this.delimiter));
  }

  /** Most rows are plain; the others are looked at with care. */
  private readPlain(from: number, to: number): boolean {
    const { columns, dialect, toHz, toDb, noiseToDb, toDeg } = this.rules;
    if (this.plain.read(from, to) !== dialect.cellCount) return false;
    const { values } = this.plain;
    const frequency = toHz(values[columns.frequency]);
    const level = toDb(values[columns.level]);
    if (!(frequency > 0 && Number.isFinite(frequency) && Number.isFinite(level))) return false;
    this.keepRow(
      frequency,
      level,
      columns.phase === undefined ? 0 : toDeg(values[columns.phase]),
      columns.noise === undefined ? 0 : noiseToDb(values[columns.noise]),
    );
    return true;
  }

  private readRow(cells: string[]): void {
    const { columns, toHz, toDb, noiseToDb, toDeg } = this.rules;
    if (cells.length === 1 && cells[0].trim() === '') {
      this.refuseTooMuch();
      return;
    }
    const groupedBefore = this.reader.grouped;
    const frequency = toHz(this.number(cells[columns.frequency]));
    const level = toDb(this.number(cells[columns.level]));
    const wrong = this.whatIsWrong(cells, frequency, level);
    if (wrong) {
      this.refuseTooMuch();
      if (wrong === 'text') this.skipText(cells);
      else this.notes.add(wrong, this.line);
      return;
    }
    const phase = columns.phase === undefined ? 0 : toDeg(this.number(cells[columns.phase]));
    const noise = columns.noise === undefined ? 0 : noiseToDb(this.number(cells[columns.noise]));
    this.keepRow(frequency, level, phase, noise);
    if (this.reader.grouped > groupedBefore) this.notes.add('thousands-separators-removed', this.line);
  }

  private keepRow(frequency: number, level: number, phase: number, noise: number): void {
    this.checkRow(frequency, level);
    this.rows.frequencyHz.push(frequency);
    this.rows.levelDb.push(level);
    this.rows.lines.push(this.line);
    this.rows.phaseDeg?.push(finite(phase));
    this.rows.noiseDb?.push(finite(noise));
  }

  private checkRow(frequency: number, level: number): void {
    const { called, maxPoints } = this.rules;
    if (!(Math.abs(level) <= 300)) {
      const shown = Number(level.toPrecision(6));
      throw makeRefusal('level-out-of-range', { label: called, levelDb: shown }, { line: this.line });
    }
    const count = this.rows.lines.length;
    if (count >= maxPoints) {
      throw makeRefusal('too-many-points', { label: called, most: maxPoints }, { line: this.line });
    }
    if (this.secondHeading && frequency <= this.rows.frequencyHz[count - 1]) {
      throw makeRefusal('several-curves', { label: called }, { line: this.secondHeading });
    }
    this.secondHeading = 0;
  }

  /** A text that is not of numbers would be read line by line to its end, however long it is. */
  private refuseTooMuch(): void {
    const { called, maxPoints } = this.rules;
    if (++this.unread <= maxPoints) return;
    throw makeRefusal('too-many-lines', { label: called, most: maxPoints }, { line: this.line });
  }

  /** A cell's number. Where no decimal sign was seen yet, the first one to turn up decides. */
  private number(cell: string | undefined): number {
    if (cell === undefined) return Number.NaN;
    const value = this.reader.read(cell);
    if (!Number.isNaN(value) || !this.rules.dialect.decimalOpen || !/\d,\d/.test(cell)) return value;
    const other = new NumberReader(',');
    const again = other.read(cell);
    if (!Number.isNaN(again) && this.reader.decimal === '.') {
      this.reader = other;
      this.plain = new PlainNumbers(this.text, this.delimiter, ',');
      this.decimalLine = this.line;
    }
    return again;
  }

  /** Why a row cannot be used; 'text' where it does not look like a row at all. */
  private whatIsWrong(cells: string[], frequency: number, level: number): WhyDropped | 'text' | undefined {
    const { columns, dialect } = this.rules;
    const isUsual = cells.length === dialect.cellCount;
    if (columns.frequency !== 0 && isComment(cells[0], this.delimiter)) return 'text';
    if (Number.isFinite(frequency) && Number.isFinite(level)) {
      if (!(frequency > 0)) return 'frequency-not-positive';
      return this.isMisshapen(cells, isUsual);
    }
    if (isComment(cells[0], this.delimiter)) return 'text';
    const [frequencyCell, levelCell] = [cells[columns.frequency] ?? '', cells[columns.level] ?? ''];
    const hasFrequency = !Number.isNaN(this.number(frequencyCell));
    const hasLevel = !Number.isNaN(this.number(levelCell));
    const isEmptyRow = saysNoNumber(frequencyCell) && saysNoNumber(levelCell) && cells.some((cell) => /\S/.test(cell));
    if (!(hasFrequency || hasLevel || isEmptyRow) || !(isUsual || this.rows.lines.length > 0)) return 'text';
    if (!Number.isFinite(frequency)) return 'frequency-missing';
    return hasLevel && this.rules.toDb !== AS_IT_IS ? 'level-not-positive' : 'level-missing';
  }

  /**
   * Between commas and blanks a cell too many or too few moves the cells after it. Words where no other row has any
   * make a row a line of text.
   */
  private isMisshapen(cells: string[], isUsual: boolean): WhyDropped | undefined {
    const { dialect, heading } = this.rules;
    const { numeric, words } = countCells(cells, this.reader);
    if (words > dialect.wordCells) return 'words-in-row';
    if (isUsual || (this.delimiter !== ',' && this.delimiter !== BLANKS)) return undefined;
    if (numeric > Math.max(dialect.numericCells, heading?.cells.length ?? 0)) return 'too-many-columns';
    if (this.delimiter === BLANKS && numeric < dialect.numericCells) return 'too-few-columns';
    return undefined;
  }

  private skipText(cells: string[]): void {
    if (this.rows.lines.length === 0) return;
    this.notes.add('text-skipped', this.line);
    if (++this.textLines > TEXT_LINES_READ) return;
    if (looksLikeHeading(cells.join(this.delimiter), this.delimiter)) this.secondHeading = this.line;
  }
}

/** Levels that are in dB already. */
export const AS_IT_IS = (value: number): number => value;

/** Where a column's values are missing: NaN, also for those that are infinite. */
function finite(value: number): number {
  return Number.isFinite(value) ? value : Number.NaN;
}
