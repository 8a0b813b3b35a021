import { type HeadingCell, namesSpl, plainText, readHeadingCell } from './headingWords';
import { BLANKS, splitLine } from './lines';

/** A line of text before the data. */
export interface TextLine {
  text: string;
  line: number;
}

/** The headings of the columns, in their order. */
export interface Heading {
  line: number;
  cells: HeadingCell[];
}

const MARKS = /^\s{0,99}(?:[#*%]|\/\/)+/;
const MARKS_OR_SEMICOLON = /^\s{0,99}(?:[#*%;]|\/\/)+/;
const LONGEST = 20_000;
const BARE_UNIT = /^[([].{0,20}[)\]]$|^k?Hz$|^dB[A-Z]*$|^deg$|^\u00b0$/i;

/** What a heading must fit. */
export interface HeadingSearch {
  /** Of the data. */
  delimiter: string;
  /** Cells of a data row. */
  columnCount: number;
  /** Headings asked for by name. */
  wanted?: string[];
  /** Whether a column may hold the frequencies, so that prose is not taken for headings. */
  mayBeFrequency?: (column: number) => boolean;
}

/**
 * Find the line that names the columns: the nearest one above the data that speaks of a frequency or a level.
 * A line of units alone is joined with the names above it.
 *
 * @param before lines above the data, first one first.
 */
export function findHeading(before: TextLine[], search: HeadingSearch): Heading | undefined {
  for (let i = before.length - 1; i >= 0; i--) {
    const cells = headingCells(joinOpenQuotes(before, i), search);
    if (!cells) continue;
    const unitsOnly = cells.every((cell) => !cell.kind || cell.byUnit);
    const names = unitsOnly && i > 0 ? headingCells(joinOpenQuotes(before, i - 1), search) : undefined;
    if (names?.length !== cells.length) return { line: before[i].line, cells };
    return {
      line: before[i - 1].line,
      cells: cells.map((unit, k) => ({ ...readHeadingCell(`${names[k].text} ${unit.text}`), text: names[k].text })),
    };
  }
  if (!search.wanted?.length) return undefined;
  // Headings of no known word still tell who asked for one by name what there is.
  const { delimiter, columnCount } = search;
  const last = before.findLast((line) => splitLine(line.text, delimiter).length === columnCount);
  return last && { line: last.line, cells: splitLine(last.text, delimiter).map(readHeadingCell) };
}

/** Whether a heading is called so: any case, accents and unit may be left out. */
export function isCalled(cell: HeadingCell, name: string): boolean {
  if (cell.text.length > 200) return cell.text === name.trim();
  const short = (text: string) =>
    plainText(text.replace(/[([][^)\]]*[)\]]/g, ' '))
      .replace(/[^\p{L}\p{N}\u00b0]+/gu, ' ')
      .trim();
  return plainText(cell.text) === plainText(name.trim()) || (short(name) !== '' && short(cell.text) === short(name));
}

function headingCells(line: string, search: HeadingSearch): HeadingCell[] | undefined {
  if (line.length > LONGEST) return undefined;
  const { delimiter, columnCount, wanted = [] } = search;
  const isOwn = delimiter !== BLANKS && line.includes(delimiter);
  for (const cells of splits(line, delimiter)) {
    const fits = cells.length === columnCount;
    // With a delimiter of its own a heading may be longer or shorter than the rows.
    if (!fits && !(isOwn && cells.length > 1)) continue;
    const read = cells.map(readHeadingCell);
    if (wanted.some((name) => read.some((cell) => isCalled(cell, name)))) return read;
    if (speaksOfColumns(read, fits, isOwn, search)) return read;
  }
  return delimiter === BLANKS ? oneOfEachKind(line, columnCount) : undefined;
}

/** Whether cells are headings and not a line of prose that happens to hold a word or two of the trade. */
function speaksOfColumns(cells: HeadingCell[], fits: boolean, isOwn: boolean, search: HeadingSearch): boolean {
  const kinds = new Set(cells.map((cell) => cell.kind));
  const frequency = cells.findIndex((cell) => cell.kind === 'frequency');
  if (frequency < 0) return isOwn && fits && kinds.has('level') && cells[0].kind !== 'level';
  if (!(fits || kinds.has('level') || kinds.has('phase'))) return false;
  return search.mayBeFrequency?.(frequency) ?? true;
}

/** The ways a heading may be cut into cells: as the data is, then otherwise. */
function splits(line: string, delimiter: string): string[][] {
  const bare = line.replace(MARKS, '').trim();
  const bolder = line.replace(MARKS_OR_SEMICOLON, '').trim();
  const byDelimiter = [line.replace(MARKS, ''), bare, bolder].map((text) => splitLine(text, delimiter));
  const tokens = splitLine(bolder, BLANKS);
  const bracketed = mergeInto(tokens, (token) => /^[([]/.test(token));
  return [
    ...(delimiter === BLANKS ? [] : byDelimiter),
    ...['\t', ';', ',', '|'].map((other) => splitLine(bolder, other)),
    bolder.split(/\t| {2,}/).filter(Boolean),
    tokens,
    bracketed,
    mergeInto(tokens, (token) => BARE_UNIT.test(token)),
  ];
}

/** Tokens with those that belong to the one before (its unit) joined to it. */
function mergeInto(tokens: string[], belongs: (token: string) => boolean): string[] {
  const merged: string[] = [];
  for (const token of tokens) {
    if (merged.length > 0 && belongs(token)) merged[merged.length - 1] += ` ${token}`;
    else merged.push(token);
  }
  return merged;
}

/** Headings of several words between blanks: one column for each change of what the words speak of. */
function oneOfEachKind(line: string, columnCount: number): HeadingCell[] | undefined {
  const groups: HeadingCell[] = [];
  for (const token of splitLine(line.replace(MARKS_OR_SEMICOLON, '').trim(), BLANKS).slice(0, 50)) {
    const { kind, unit } = readHeadingCell(token);
    const last = groups.at(-1);
    if (last && (!kind || kind === last.kind)) {
      groups[groups.length - 1] = {
        ...readHeadingCell(`${last.text} ${token}`),
        kind: last.kind,
        unit: last.unit ?? unit,
      };
    } else if (kind) groups.push(readHeadingCell(token));
  }
  const kinds = new Set(groups.map((cell) => cell.kind));
  if (groups.length !== columnCount || kinds.size !== columnCount || !kinds.has('frequency')) return undefined;
  return groups.map((cell) => (cell.kind === 'level' && namesSpl(line) ? { ...cell, spl: true } : cell));
}

/** A quoted heading may hold line ends: put the lines of it together again. */
function joinOpenQuotes(before: TextLine[], i: number): string {
  let text = before[i].text;
  for (let k = i - 1; k >= Math.max(0, i - 6) && oddQuotes(text); k--) text = `${before[k].text} ${text}`;
  return oddQuotes(text) ? before[i].text : text;
}

function oddQuotes(text: string): boolean {
  return text.split('"').length % 2 === 0;
}
