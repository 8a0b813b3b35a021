import { type HeadingCell, plainText, readHeadingCell } from './headingWords';
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

/**
 * Find the line that names the columns: the nearest one above the data that speaks of a frequency or a level.
 * A line of units alone is joined with the names above it.
 *
 * @param before lines above the data, first one first. @param delimiter of the data.
 * @param columnCount cells of a data row. @param wanted headings asked for by name.
 */
export function findHeading(
  before: TextLine[],
  delimiter: string,
  columnCount: number,
  wanted: string[] = [],
): Heading | undefined {
  for (let i = before.length - 1; i >= 0; i--) {
    const cells = headingCells(joinOpenQuotes(before, i), delimiter, columnCount, wanted);
    if (!cells) continue;
    const unitsOnly = cells.every((cell) => !cell.kind || cell.byUnit);
    const names =
      unitsOnly && i > 0 ? headingCells(joinOpenQuotes(before, i - 1), delimiter, columnCount, wanted) : undefined;
    if (names?.length !== cells.length) return { line: before[i].line, cells };
    return {
      line: before[i - 1].line,
      cells: cells.map((unit, k) => ({ ...readHeadingCell(`${names[k].text} ${unit.text}`), text: names[k].text })),
    };
  }
  // Headings of no known word still tell who asked for one by name what there is.
  const last =
    wanted.length > 0 ? before.findLast((line) => splitLine(line.text, delimiter).length === columnCount) : undefined;
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

function headingCells(
  line: string,
  delimiter: string,
  columnCount: number,
  wanted: string[],
): HeadingCell[] | undefined {
  if (line.length > LONGEST) return undefined;
  for (const cells of splits(line, delimiter)) {
    const fits = cells.length === columnCount;
    // With a delimiter of its own a heading may be longer or shorter than the rows.
    const mayFit = delimiter !== BLANKS && cells.length > 1 && line.includes(delimiter);
    if (!fits && !mayFit) continue;
    const read = cells.map(readHeadingCell);
    if (wanted.some((name) => read.some((cell) => isCalled(cell, name)))) return read;
    const kinds = new Set(read.map((cell) => cell.kind));
    const speaks = kinds.has('frequency') || (kinds.has('level') && fits);
    if (speaks && (fits || kinds.has('level') || kinds.has('phase'))) return read;
  }
  return delimiter === BLANKS ? oneOfEachKind(line, columnCount) : undefined;
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
  return groups.length === columnCount && kinds.size === columnCount && kinds.has('frequency') ? groups : undefined;
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
