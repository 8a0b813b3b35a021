import { type HeadingCell, namesSpl, plainText, readHeadingCell, tellsValues } from './headingWords';
import { BLANKS, splitLine, withoutEmptyEnd } from './lines';

/** A line of text before the data. */
export interface TextLine {
  text: string;
  line: number;
  /** Numbers, as a row of data has them. */
  isRow?: boolean;
}

/** The headings of the columns, in their order. */
export interface Heading {
  line: number;
  cells: HeadingCell[];
}

/** What a heading must fit. */
export interface HeadingSearch {
  /** Of the data. */
  delimiter: string;
  /** Cells of a data row, but for empty ones at its end. */
  columnCount: number;
  /** Headings asked for by name. */
  wanted?: string[];
}

const MARKS = /^\s{0,99}(?:[#*%]|\/\/)+/;
const MARKS_OR_SEMICOLON = /^\s{0,99}(?:[#*%;]|\/\/)+/;
const LONGEST = 20_000;
/** How many of the first ways to cut a line are at the delimiter of the data. */
const CUT_LIKE_DATA = 3;
const BARE_UNIT = /^[([].{0,20}[)\]]$|^[km]?Hz$|^rad\/s$|^dB[A-Z]*$|^m?Pa$|^m?V$|^deg$|^\u00b0$/i;
const NUMBER = /(?:^|[\s:=@])[-+\u2212]?\d+(?:[.,]\d+)?(?=$|\s)/;

/**
 * Find the heading: the line just above the data that has as many cells as the data and names a frequency.
 *
 * Comment lines that are marked as such may stand between it and the data where it is not marked itself. A line of units
 * alone is joined with the names above it.
 *
 * @param before lines above the data, first one first.
 * @returns the heading, and lines elsewhere that would be one: what they say is not believed, but may have been meant.
 */
export function findHeading(
  before: TextLine[],
  search: HeadingSearch,
): { heading: Heading | undefined; passedOver: Heading[] } {
  const heading = headingAbove(before, search);
  if (heading) return { heading, passedOver: [] };
  const passedOver = before.flatMap(({ text, line }) => {
    const cells = headingCells(text, search) ?? cellsOfOtherCount(text, search.delimiter);
    return cells ? [{ line, cells }] : [];
  });
  return { heading: headingOfNoKnownWord(before, search), passedOver };
}

/** Up from the data: past rows that stand alone with a remark below them, and past marked comments to an unmarked line. */
function headingAbove(before: TextLine[], search: HeadingSearch): Heading | undefined {
  let isJustAbove = true;
  for (let i = before.length - 1; i >= 0; i--) {
    const { text, isRow } = before[i];
    const isMarked = MARKS_OR_SEMICOLON.test(text);
    const heading = !isRow && (isJustAbove || !isMarked) ? headingAt(before, i, search) : undefined;
    if (heading) return heading;
    if (!isRow && !isMarked && !before[i - 1]?.isRow) return undefined;
    isJustAbove = isRow === true;
  }
  return undefined;
}

/** Cells of a line just above the data that has as many, with the words of no frequency: 'Time;Level' heads another thing. */
export function cellsJustAbove(before: TextLine[], { delimiter, columnCount }: HeadingSearch): Heading | undefined {
  const line = before.at(-1);
  if (!line || line.isRow || line.text.length > LONGEST || tellsValues(line.text)) return undefined;
  const cells = splits(line.text, delimiter)
    .find((some) => some.length === columnCount)
    ?.map(readHeadingCell);
  return cells && { line: line.line, cells };
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

/** Whether a line names a frequency and a level as headings do, with whatever delimiter. */
export function looksLikeHeading(line: string, delimiter: string): boolean {
  return [2, 3, 4, 5].some((columnCount) => headingCells(line, { delimiter, columnCount }) !== undefined);
}

function headingAt(before: TextLine[], i: number, search: HeadingSearch): Heading | undefined {
  if (i < 0) return undefined;
  const text = joinOpenQuotes(before, i);
  const cells = headingCells(text, search);
  if (!cells) return undefined;
  const names =
    cells.every((cell) => !cell.kind || cell.byUnit || cell.kind === 'other') && i > 0
      ? cellsIn(before[i - 1].text, search)
      : undefined;
  if (!names) return { line: before[i].line, cells };
  return {
    line: before[i - 1].line,
    cells: cells.map((unit, k) => ({ ...readHeadingCell(`${names[k]} (${unit.text})`), text: names[k].trim() })),
  };
}

/** Cells of a line of names above a line of units. */
function cellsIn(line: string, { delimiter, columnCount }: HeadingSearch): string[] | undefined {
  return splits(line, delimiter).find(
    (cells) => cells.length === columnCount && !cells.some((cell) => NUMBER.test(cell)),
  );
}

function headingCells(line: string, search: HeadingSearch): HeadingCell[] | undefined {
  if (line.length > LONGEST) return undefined;
  const { delimiter, columnCount, wanted = [] } = search;
  const isOwn = delimiter !== BLANKS && line.includes(delimiter);
  for (const [k, cells] of splits(line, delimiter).entries()) {
    if (isOwn && k >= CUT_LIKE_DATA) break;
    if (cells.length !== columnCount || cells.some((cell) => /^\s*[-+]?\d[\d.,]*\s*$/.test(cell))) continue;
    const read = cells.map(readHeadingCell);
    if (wanted.some((name) => read.some((cell) => isCalled(cell, name)))) return read;
    const hasFrequency = read.some((cell) => cell.kind === 'frequency');
    // Where a line is cut otherwise than the data, or at every blank, each cell must be understood, lest it be prose.
    const isCutLikeData = isOwn && k < CUT_LIKE_DATA;
    const isUnderstood = read.every((cell) => cell.kind) && !tellsValues(line) && !read.some(tellsNumber);
    const isQuoted = line.split('"').length - 1 === 2 * columnCount;
    if (hasFrequency && (isCutLikeData || isUnderstood || (isQuoted && !tellsValues(line)))) return read;
  }
  return delimiter === BLANKS ? oneOfEachKind(line, columnCount) : undefined;
}

/** Whether a cell tells a number, as prose does; 'level 2' is a name. */
function tellsNumber({ text, kind }: HeadingCell): boolean {
  return NUMBER.test(text) && (kind === 'frequency' || !/^\D+ \d$/.test(text));
}

/** Cells of a line that names a frequency and a level in another number of columns than the data has. */
function cellsOfOtherCount(line: string, delimiter: string): HeadingCell[] | undefined {
  if (line.length > LONGEST || delimiter === BLANKS || !line.includes(delimiter) || tellsValues(line)) return undefined;
  const cells = splitLine(line.replace(MARKS, ''), delimiter).map(readHeadingCell);
  const says = (kind: HeadingCell['kind']) => cells.some((cell) => cell.kind === kind);
  return says('frequency') && (says('level') || says('phase')) ? cells : undefined;
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
  ].map(withoutEmptyEnd);
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
  if (NUMBER.test(line)) return undefined;
  const groups: HeadingCell[] = [];
  let unknown = 0;
  for (const token of splitLine(line.replace(MARKS_OR_SEMICOLON, '').trim(), BLANKS).slice(0, 12)) {
    const { kind, unit } = readHeadingCell(token);
    const last = groups.at(-1);
    // prose holds more words that name nothing than columns
    if (!kind && ++unknown > columnCount) return undefined;
    if (last && (!kind || kind === last.kind)) {
      groups[groups.length - 1] = {
        ...readHeadingCell(`${last.text} ${token}`),
        kind: last.kind,
        unit: last.unit ?? unit,
      };
    } else if (kind) groups.push(readHeadingCell(token));
    else return undefined;
  }
  const kinds = new Set(groups.map((cell) => cell.kind));
  if (groups.length !== columnCount || kinds.size !== columnCount || !kinds.has('frequency')) return undefined;
  return groups.map((cell) => (cell.kind === 'level' && namesSpl(line) ? { ...cell, spl: true } : cell));
}

/** Who asks for a column by a name that is no known word is told the cells just above the data. */
function headingOfNoKnownWord(
  before: TextLine[],
  { wanted, delimiter, columnCount }: HeadingSearch,
): Heading | undefined {
  if (!wanted?.length) return undefined;
  const last = before.findLast((line) => withoutEmptyEnd(splitLine(line.text, delimiter)).length === columnCount);
  return last && { line: last.line, cells: splitLine(last.text, delimiter).map(readHeadingCell) };
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
