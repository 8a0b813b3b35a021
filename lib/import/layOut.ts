import type { Caveat } from '../model/caveat';
import { makeCaveat } from '../words/makeCaveat';
import { type Columns, chooseColumns } from './chooseColumns';
import { type Dialect, findDialect } from './dialect';
import { findHeading, type Heading } from './findHeading';
import { speaksOfSpl } from './headingWords';
import { lineNumberAt, type SampleLine, sampleLines } from './lines';
import { NumberReader } from './numberReader';
import type { OwnHeader } from './ownText';
import { readOpening } from './readOpening';
import { refuseMixedCommas } from './refuseMixedCommas';
import { refuseUnreadable } from './refuseUnreadable';
import type { CheckedTextOptions } from './textOptions';

/** How a text is laid out, and the text as it is to be read. */
export interface Layout {
  text: string;
  dialect: Dialect;
  heading: Heading | undefined;
  columns: Columns;
  /** The text above the data says that levels are dB re 20 uPa. */
  scale: 'spl' | undefined;
}

/**
 * Find delimiter, decimal sign, headings and columns of a text.
 *
 * @param own what the text says where it is one of ours. @param notes guesses are added here.
 * @throws BassloomError `one-column`, `header-only`, `nothing-numeric`, `thousands-separators`,
 * `ambiguous-decimal`, `column-not-found`, `contradictory-options`.
 */
export function layOut(text: string, options: CheckedTextOptions, own: OwnHeader | undefined, notes: Caveat[]): Layout {
  const fixed = { delimiter: options.delimiter ?? (own && ','), decimal: options.decimal ?? (own && ('.' as const)) };
  let dialect: Dialect | undefined;
  let sample: SampleLine[] = [];
  let first: SampleLine[] | undefined;
  for (sample of sampleLines(text)) {
    first ??= sample;
    dialect = findDialect(
      sample.map((line) => line.text),
      fixed,
    );
    if (dialect) break;
  }
  if (!dialect) {
    const blank = text.replace(OTHER_BLANKS, ' ');
    if (blank === text) return refuseUnreadable(text, first ?? [], options);
    notes.push(makeCaveat('blanks-replaced', 'remark', {}));
    return layOut(blank, options, own, notes);
  }
  const { before, rows } = readOpening(text, dialect);
  const wanted = Object.values(options.columns).filter((column): column is string => typeof column === 'string');
  const heading = findHeading(before, {
    delimiter: dialect.delimiter,
    columnCount: dialect.cellCount,
    wanted,
    mayBeFrequency: (column) => isMonotone(rows, column, dialect.decimal) || !isMonotone(rows, 0, dialect.decimal),
  });
  if (dialect.delimiter === ',' && !fixed.delimiter && !fixed.decimal) {
    const line = lineNumberAt(text, sample[0].offset);
    dialect.doubt ??= refuseMixedCommas(dialect.rows, heading?.cells.length, options.called, line);
  }
  noteDialect(dialect, options, own, notes);
  const scale = before.some((line) => speaksOfSpl(line.text)) ? 'spl' : undefined;
  return { text, dialect, heading, scale, columns: chooseColumns(rows, dialect, heading, options, notes) };
}

/** Whether a column keeps rising or keeps falling. */
function isMonotone(rows: string[][], column: number, decimal: '.' | ','): boolean {
  const reader = new NumberReader(decimal);
  const values = rows.map((cells) => reader.read(cells[column] ?? ''));
  const rises = values.slice(1).map((value, i) => Math.sign(value - values[i]));
  return rises.every((sign) => sign === rises[0] && sign !== 0);
}

const OTHER_BLANKS = /[\u00a0\u2000-\u200a\u202f\u3000]/g;

function noteDialect(dialect: Dialect, options: CheckedTextOptions, own: OwnHeader | undefined, notes: Caveat[]): void {
  if (own) return;
  const { delimiter, decimal, decimalOpen, doubt } = dialect;
  if (!options.delimiter) notes.push(makeCaveat('delimiter-found', 'remark', { delimiter }));
  if (options.decimal) return;
  notes.push(makeCaveat('decimal-sign-found', 'remark', { sign: decimal, met: !decimalOpen }));
  if (doubt) notes.push(doubt);
}
