import { countCells, type Dialect } from './dialect';
import type { TextLine } from './findHeading';
import { isComment, linesOf, splitLine } from './lines';
import { NumberReader } from './numberReader';

/** What stands before the data, and how they begin. */
export interface Opening {
  /** The last lines above the data. */
  before: TextLine[];
  rows: string[][];
}

const LINES_KEPT = 40;
/** So many show whether a column counts them. */
const ROWS_WANTED = 8;

/**
 * Read the lines above the data: above the first two rows in a row with as many numbers as most rows have. Rows that
 * stand alone are among them, for they may be of the data, with a remark below, or a number or two of something else.
 */
export function readOpening(text: string, dialect: Dialect): Opening {
  const reader = new NumberReader(dialect.decimal);
  const before: TextLine[] = [];
  const rows: string[][] = [];
  let lastRow = 0;
  for (const line of linesOf(text)) {
    if (rows.length >= 2 && line.line > lastRow + LINES_KEPT) break;
    if (line.text.trim() === '') continue;
    const cells = splitLine(line.text, dialect.delimiter);
    const { numeric, words } = countCells(cells, reader);
    const isRow =
      !isComment(cells[0], dialect.delimiter) && numeric >= dialect.numericCells && words <= dialect.wordCells;
    if (isRow) {
      rows.push(cells);
      if (rows.length === 2) before.pop();
      lastRow = line.line;
    } else if (rows.length < 2) rows.length = 0;
    else break;
    if (rows.length >= ROWS_WANTED) break;
    if (rows.length < 2) before.push(isRow ? { ...line, isRow } : line);
    if (before.length > LINES_KEPT) before.shift();
  }
  return { before, rows };
}
