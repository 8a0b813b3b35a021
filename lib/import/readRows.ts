import { refuse } from '../model/refuse';
import type { WhyDropped } from '../words/en/importing';
import type { Columns } from './chooseColumns';
import { type Dialect, numericCells } from './dialect';
import { readHeadingCell } from './headingWords';
import type { LineNotes } from './lineNotes';
import { BLANKS, blocksOf, isComment, splitBlock } from './lines';
import { NumberReader, saysNoNumber } from './numberReader';

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
  toDeg: (value: number) => number;
  maxPoints: number;
  called: string;
  /** How many headings there are; 0 where there are none. */
  headings: number;
}

const TEXT_LINES_READ = 200;

/**
 * Read all rows of a text.
 *
 * @param notes drops and repairs are added here, with their lines.
 * @returns the rows, and the decimal sign, which may have been open before.
 * @throws BassloomError `too-many-points`, `level-out-of-range`.
 */
export function readRows(text: string, rules: RowRules, notes: LineNotes): { rows: Rows; decimal: '.' | ',' } {
  return new RowsReader(rules, notes).read(text);
}

class RowsReader {
  private reader: NumberReader;
  private readonly rows: Rows;
  private readonly delimiter: string;
  private textLines = 0;
  private secondHeading = 0;

  constructor(
    private readonly rules: RowRules,
    private readonly notes: LineNotes,
  ) {
    this.reader = new NumberReader(rules.dialect.decimal);
    this.delimiter = rules.dialect.delimiter;
    this.rows = {
      frequencyHz: [],
      levelDb: [],
      lines: [],
      ...(rules.columns.phase !== undefined && { phaseDeg: [] }),
      ...(rules.columns.noise !== undefined && { noiseDb: [] }),
    };
  }

  read(text: string): { rows: Rows; decimal: '.' | ',' } {
    const tooLong = (line: number) => this.notes.add('long-lines-dropped', line);
    for (const block of blocksOf(text, tooLong)) {
      const rows = splitBlock(block, this.delimiter);
      for (let i = 0; i < rows.length; i++) this.readRow(rows[i], block.firstLine + i);
    }
    return { rows: this.rows, decimal: this.reader.decimal };
  }

  private readRow(cells: string[], line: number): void {
    const { columns, toHz, toDb } = this.rules;
    if (cells.length === 1 && cells[0].trim() === '') return;
    const groupedBefore = this.reader.grouped;
    const frequency = toHz(this.number(cells[columns.frequency]));
    const level = toDb(this.number(cells[columns.level]));
    const wrong = this.whatIsWrong(cells, frequency, level);
    if (wrong === 'text') this.skipText(cells, line);
    else if (wrong) this.notes.add(wrong, line);
    else this.keepRow(cells, frequency, level, line);
    if (!wrong && this.reader.grouped > groupedBefore) {
      this.notes.add('thousands-separators-removed', line);
    }
  }

  private keepRow(cells: string[], frequency: number, level: number, line: number): void {
    this.checkRow(frequency, level, line);
    this.rows.frequencyHz.push(frequency);
    this.rows.levelDb.push(level);
    this.rows.lines.push(line);
    this.readOthers(cells);
  }

  private checkRow(frequency: number, level: number, line: number): void {
    const { called, maxPoints } = this.rules;
    if (!(Math.abs(level) <= 300)) {
      const shown = Number(level.toPrecision(6));
      const hint = 'choose another column with `columns`, or say with `levelUnit` what the numbers are';
      refuse('level-out-of-range', called, `the level is ${shown} dB, outside -300..300 dB; ${hint}.`, line);
    }
    if (this.rows.lines.length >= maxPoints) {
      refuse('too-many-points', called, `more than ${maxPoints} points; export fewer, or raise maxPoints.`, line);
    }
    if (this.secondHeading && frequency === this.rows.frequencyHz[0]) {
      refuse(
        'several-curves',
        called,
        'the frequencies start again below a second heading; put each curve into a file of its own.',
        this.secondHeading,
      );
    }
  }

  private readOthers(cells: string[]): void {
    const { columns, toDb, toDeg } = this.rules;
    if (columns.phase !== undefined) this.rows.phaseDeg?.push(finite(toDeg(this.number(cells[columns.phase]))));
    if (columns.noise !== undefined) this.rows.noiseDb?.push(finite(toDb(this.number(cells[columns.noise]))));
  }

  /** A cell's number. Where no decimal sign was seen yet, the first one to turn up decides. */
  private number(cell: string | undefined): number {
    if (cell === undefined) return Number.NaN;
    const value = this.reader.read(cell);
    if (!Number.isNaN(value) || !this.rules.dialect.decimalOpen || !/\d,\d/.test(cell)) return value;
    const other = new NumberReader(',');
    const again = other.read(cell);
    if (!Number.isNaN(again) && this.reader.decimal === '.') this.reader = other;
    return again;
  }

  /** Why a row cannot be used; 'text' where it does not look like a row at all. */
  private whatIsWrong(cells: string[], frequency: number, level: number): WhyDropped | 'text' | undefined {
    const { columns, dialect } = this.rules;
    const isUsual = cells.length === dialect.cellCount;
    if (columns.frequency !== 0 && isComment(cells[0], this.delimiter)) return 'text';
    if (Number.isFinite(frequency) && Number.isFinite(level)) {
      if (!(frequency > 0)) return 'frequency-not-positive';
      return isUsual || (this.delimiter !== ',' && this.delimiter !== BLANKS) ? undefined : this.isMisshapen(cells);
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

  /** Between commas and blanks a cell too many or too few moves the cells after it. */
  private isMisshapen(cells: string[]): WhyDropped | undefined {
    const { dialect, headings } = this.rules;
    const count = numericCells(cells, this.reader);
    if (count > Math.max(dialect.numericCells, headings)) return 'too-many-columns';
    if (this.delimiter === BLANKS && count < dialect.numericCells) return 'too-few-columns';
    return undefined;
  }

  private skipText(cells: string[], line: number): void {
    if (this.rows.lines.length === 0) return;
    this.notes.add('text-skipped', line);
    if (++this.textLines > TEXT_LINES_READ) return;
    const words = cells.slice(0, 50).flatMap((cell) => cell.slice(0, 200).split(/[\s,;]+/));
    const kinds = new Set(words.map((word) => readHeadingCell(word).kind));
    if (kinds.has('frequency') && kinds.has('level')) this.secondHeading = line;
  }
}

/** Levels that are in dB already. */
export const AS_IT_IS = (value: number): number => value;

/** Where a column's values are missing: NaN, also for those that are infinite. */
function finite(value: number): number {
  return Number.isFinite(value) ? value : Number.NaN;
}
