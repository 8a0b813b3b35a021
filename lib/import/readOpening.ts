import { type Dialect, numericCells } from './dialect';
import type { TextLine } from './findHeading';
import { isComment, linesOf, splitLine } from './lines';
import { NumberReader } from './numberReader';

/** What stands before the data. */
export interface Opening {
  /** The last lines of text before the first row of data. */
  before: TextLine[];
  /** The first rows of data. */
  rows: string[][];
}

const LINES_KEPT = 40;
const ROWS_WANTED = 32;

/**
 * Read up to the first rows of data: two rows in a row with as many numbers as most rows have,
 * so that a number or two among the text above is not taken for data.
 */
export function readOpening(text: string, dialect: Dialect): Opening {
  const reader = new NumberReader(dialect.decimal);
  const before: TextLine[] = [];
  const rows: string[][] = [];
  for (const line of linesOf(text)) {
    if (line.text.trim() === '') continue;
    const cells = splitLine(line.text, dialect.delimiter);
    const isData = !isComment(cells[0], dialect.delimiter) && numericCells(cells, reader) >= dialect.numericCells;
    if (isData) rows.push(cells);
    else if (rows.length < 2) {
      rows.length = 0;
      before.push(line);
      if (before.length > LINES_KEPT) before.shift();
    }
    if (rows.length >= ROWS_WANTED) break;
  }
  return { before, rows };
}
