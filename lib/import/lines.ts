import Papa from 'papaparse';

/** As delimiter: any run of blanks and tabs. */
export const BLANKS = ' ';

/** A line of more characters is no data. */
export const LONGEST_LINE = 1 << 16;

const LF = 10;
const SAMPLE = 100;
const ENOUGH = 20;
const BLANK_TOKENS = /"[^"]*"|[^ \t"\v\f][^ \t\v\f]*|"/g;

/** The lines of a text with their numbers, but for empty ones and those too long to be data. */
export function* linesOf(text: string): Generator<{ text: string; line: number }> {
  let line = 1;
  for (let from = 0; from <= text.length; line++) {
    let to = text.charCodeAt(from) === LF ? from : text.indexOf('\n', from);
    if (to < 0) to = text.length;
    if (to > from && to - from <= LONGEST_LINE) yield { text: text.slice(from, to), line };
    from = to + 1;
  }
}

/** Cells of one line. A quoted cell ends on its line. */
export function splitLine(line: string, delimiter: string): string[] {
  if (delimiter === BLANKS) return splitBlanks(line);
  if (!line.includes('"')) return line.split(delimiter);
  // Blanks before an opening quote would otherwise make the quote part of the cell.
  const source = line.replaceAll(`${delimiter} "`, `${delimiter}"`);
  return Papa.parse<string[]>(source, { delimiter, newline: '\n' }).data[0] ?? [''];
}

/** Cells of a row without empty ones at its end. */
export function withoutEmptyEnd(cells: string[]): string[] {
  let end = cells.length;
  while (end > 0 && cells[end - 1].trim() === '') end--;
  return end === cells.length ? cells : cells.slice(0, end);
}

/** Whether a line, known by its first cell, is marked as a comment. A semicolon may also begin an empty first column. */
export function isComment(firstCell: string, delimiter: string): boolean {
  const mark = firstCell.trimStart().slice(0, 2);
  return /^[#*%]|^\/\//.test(mark) || (mark.startsWith(';') && delimiter !== ';');
}

/** Where a line stands in its text. */
export interface SampleLine {
  text: string;
  offset: number;
}

const LIKE_DATA = [
  /^[\s"']{0,99}[+\-\u2212\u2013.,]?\s?\d/,
  /^[\s"',;]{0,99}[+\-\u2212\u2013.,]?\s?\d/,
  /^[^#*%].{0,999}\d\D.{0,999}\d/,
];

/**
 * Lines that look like data, from all over a text and in its order: the first ones and some spread evenly.
 *
 * @returns samples to be tried in turn: lines that begin with a number (perhaps signed or quoted), those that do
 * so after an empty column, those with two numbers anywhere in them. Empty ones are left out.
 */
export function* sampleLines(text: string): Generator<SampleLine[]> {
  const lines = spreadLines(text);
  const fewer = thin(lines, 4 * SAMPLE);
  for (const pattern of LIKE_DATA) {
    const look = (among: SampleLine[]) => among.filter((line) => pattern.test(line.text));
    const found = look(fewer);
    const isEnough = found.length >= ENOUGH || fewer.length === lines.length;
    const sample = thin(isEnough ? found : look(lines), SAMPLE);
    if (sample.length > 0) yield sample;
  }
}

/** Number of the line at an offset, counted from 1. */
export function lineNumberAt(text: string, offset: number): number {
  return countLines(text.slice(0, offset));
}

function spreadLines(text: string): SampleLine[] {
  const lines: SampleLine[] = [];
  let from = 0;
  const take = () => {
    let to = text.indexOf('\n', from);
    if (to < 0) to = text.length;
    if (to - from <= LONGEST_LINE) lines.push({ text: text.slice(from, to), offset: from });
    from = to + 1;
  };
  while (from < Math.min(text.length, LONGEST_LINE)) take();
  const stride = Math.max(LONGEST_LINE, Math.floor(text.length / (4 * SAMPLE)));
  for (let at = from + stride; at < text.length; at = Math.max(from, at) + stride) {
    from = text.indexOf('\n', at) + 1;
    if (from === 0) break;
    take();
  }
  return lines;
}

/** At most so many of some lines, spread evenly, the first one included. */
function thin(lines: SampleLine[], most: number): SampleLine[] {
  if (lines.length <= most) return lines;
  return Array.from({ length: most }, (_, i) => lines[Math.floor((i * lines.length) / most)]);
}

function splitBlanks(line: string): string[] {
  if (!line.includes('"')) {
    const trimmed = line.trim();
    return /[\t\v\f]| {2}/.test(trimmed) ? trimmed.split(/[ \t\v\f]+/) : trimmed.split(' ');
  }
  const cells = line.match(BLANK_TOKENS) ?? [''];
  return cells.map((cell) =>
    cell.length > 1 && cell.startsWith('"') && cell.endsWith('"') ? cell.slice(1, -1) : cell,
  );
}

function countLines(text: string): number {
  let count = 1;
  for (let at = text.indexOf('\n'); at >= 0; at = text.indexOf('\n', at + 1)) count++;
  return count;
}
