import type { Caveat } from '../model/caveat';
import { makeCaveat } from '../words/makeCaveat';
import { type ChosenColumns, type Columns, chooseColumns, lookAtColumns } from './chooseColumns';
import type { ColumnLook } from './columnLook';
import { type Dialect, findDialect } from './dialect';
import { cellsJustAbove, findHeading, type Heading } from './findHeading';
import { speaksOfSpl } from './headingWords';
import { lineNumberAt, type SampleLine, sampleLines } from './lines';
import type { OwnHeader } from './ownText';
import { readOpening } from './readOpening';
import { refuseMixedCommas } from './refuseMixedCommas';
import { refuseUnreadable } from './refuseUnreadable';
import { withPlainBlanks } from './rewriteText';
import type { CheckedTextOptions } from './textOptions';

/** How a text is laid out, and the text as it is to be read. */
export interface Layout extends ChosenColumns {
  text: string;
  dialect: Dialect;
  heading: Heading | undefined;
  /** Lines of numbers above the heading. */
  rowsAbove: number[];
  /** The text above the data says that levels are dB re 20 uPa. */
  scale: 'spl' | undefined;
}

const OTHER_BLANKS = /[\u00a0\u2000-\u200a\u202f\u3000]/;

/**
 * Find delimiter, decimal sign, headings and columns of a text.
 *
 * @param own what the text says where it is one of ours. @param notes guesses are added here.
 * @throws BassloomError `one-column`, `header-only`, `nothing-numeric`, `no-level-column`, `thousands-separators`,
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
    const blank = withPlainBlanks(text);
    if (blank === text) return refuseUnreadable(text, first ?? [], options);
    notes.push(makeCaveat('blanks-replaced', 'remark', {}, { lines: [lineNumberAt(text, text.search(OTHER_BLANKS))] }));
    return layOut(blank, options, own, notes);
  }
  const { before, rows } = readOpening(text, dialect);
  const wanted = Object.values(options.columns).filter((column): column is string => typeof column === 'string');
  const columnCount = dialect.filledCount;
  const { looks, numeric } = lookAtColumns(dialect, rows);
  let { heading, passedOver } = findHeading(before, { delimiter: dialect.delimiter, columnCount, wanted });
  if (heading && contradicts(heading, looks)) [heading, passedOver] = [undefined, [heading]];
  if (dialect.delimiter === ',' && !fixed.delimiter && !fixed.decimal) {
    const line = lineNumberAt(text, sample[0].offset);
    const headings = heading ?? passedOver.at(-1);
    dialect.doubt ??= refuseMixedCommas(dialect.rows, headings?.cells.length, options.called, line);
  }
  noteDialect(dialect, options, own, notes);
  const scale = before.some((line) => speaksOfSpl(line.text)) ? 'spl' : undefined;
  const columns = chooseColumns({ numeric, looks }, heading, options, notes);
  const search = { delimiter: dialect.delimiter, columnCount };
  const above = heading ? undefined : cellsJustAbove(before, search);
  const other =
    passedOver.find((one) => saysOtherwise(one, columns)) ??
    (above && headsAnother(above, columns) ? above : undefined);
  if (other && !isSettled(options)) notes.push(makeCaveat('heading-passed-over', 'doubt', {}, { lines: [other.line] }));
  const rowsAbove = before.filter((one) => one.isRow && heading && one.line < heading.line).map(({ line }) => line);
  return { text, dialect, heading, rowsAbove, scale, columns, looks };
}

/** Whether what a line calls the frequency does not run in order though a column that it calls otherwise rises. */
function contradicts({ cells }: Heading, looks: ColumnLook[]): boolean {
  const frequency = looks[cells.findIndex((cell) => cell.kind === 'frequency')];
  if (!frequency || frequency.rises || frequency.falls || frequency.values.length < 3) return false;
  return looks.some(({ rises, lowest }, i) => rises === 'strictly' && lowest > 0 && cells[i]?.kind !== 'other');
}

/** Whether a line that was not taken for the heading names other columns or units than those taken. */
function saysOtherwise({ cells }: Heading, columns: Columns): boolean {
  const units: Record<string, string[]> = { frequency: ['Hz'], level: ['dB'], noise: ['dB'], phase: ['deg'] };
  return Object.entries(columns).some(([kind, column]) => {
    const said = cells[column];
    return said?.kind && (said.kind !== kind || (said.unit && !units[kind].includes(said.unit)));
  });
}

/** Whether a line names the level, and in place of the frequency something else: a time, or what has another unit. */
function headsAnother({ cells }: Heading, columns: Columns): boolean {
  const { kind, oddUnit } = cells[columns.frequency] ?? {};
  return cells[columns.level]?.kind === 'level' && (kind === 'other' || oddUnit !== undefined);
}

function isSettled({ columns, frequencyUnit, levelUnit }: CheckedTextOptions): boolean {
  return columns.frequency !== undefined && columns.level !== undefined && !!frequencyUnit && !!levelUnit;
}

function noteDialect(dialect: Dialect, options: CheckedTextOptions, own: OwnHeader | undefined, notes: Caveat[]): void {
  if (own) return;
  const { delimiter, decimal, decimalOpen, doubt } = dialect;
  if (!options.delimiter) notes.push(makeCaveat('delimiter-found', 'remark', { delimiter }));
  if (options.decimal) return;
  notes.push(makeCaveat('decimal-sign-found', 'remark', { sign: decimal, met: !decimalOpen }));
  if (doubt) notes.push(doubt);
}
