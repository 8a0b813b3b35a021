/** What may stand in a table cell. */
export type CsvValue = string | number | boolean | null | undefined;

const PLAIN_NUMBER = /^[+-]?(?:\d+(?:\.\d*)?|\.\d+)(?:[eE][+-]?\d+)?$/;
// Spreadsheets start a formula at = + - @, also after blanks and in their full-width forms.
const FORMULA = /^[\s"']*[=+\-@\uff1d\uff0b\uff0d\uff20]/;
// A cell that begins with one of these is taken for what stands behind it.
const LINE_START = /^[\t\r\n]/;
// Another machine's separator may part a cell into several, each of which then begins one.
const SEPARATORS = /([,;\t|\r\n])/;

/**
 * Write one cell of delimited text: quoted where it must be, and with text that a spreadsheet
 * would run as a formula, at its start or after anything that it may take for a separator, made harmless by an
 * apostrophe in front.
 *
 * @param value numbers, and text that is nothing but a number, stay numbers; null, undefined and
 * numbers that are not finite become an empty cell.
 * @param delimiter one character, default comma.
 *
 * @example
 * csvCell(-12.5) // '-12.5'
 * csvCell('=1+1') // "'=1+1"
 * csvCell('flat, step 3') // '"flat, step 3"'
 */
export function csvCell(value: CsvValue, delimiter = ','): string {
  if (value === null || value === undefined) return '';
  if (typeof value === 'number') return Number.isFinite(value) ? numberText(value) : '';
  const [first, ...others] = String(value).split(SEPARATORS);
  const text = (LINE_START.test(String(value)) ? `'${first}` : disarm(first)) + others.map(disarm).join('');
  const mustQuote = text.includes(delimiter) || /["\r\n]|^\s|\s$/.test(text);
  return mustQuote ? `"${text.replaceAll('"', '""')}"` : text;
}

/** Text between two separators; what is nothing but a number stays one. */
function disarm(part: string): string {
  return FORMULA.test(part) && !PLAIN_NUMBER.test(part.trim()) ? `'${part}` : part;
}

/**
 * Write rows as delimited text (RFC 4180: CRLF after every row, quotes doubled).
 *
 * @param rows cells as for {@link csvCell}. @param delimiter one character, default comma.
 *
 * @example
 * csvRows([['unit', 'low end (Hz)'], ['A', 18.5]]) // 'unit,low end (Hz)\r\nA,18.5\r\n'
 */
export function csvRows(rows: readonly (readonly CsvValue[])[], delimiter = ','): string {
  return rows.map((row) => `${row.map((value) => csvCell(value, delimiter)).join(delimiter)}\r\n`).join('');
}

/** Shortest text that reads back as the same number, the sign of zero included. */
export function numberText(value: number): string {
  return Object.is(value, -0) ? '-0' : String(value);
}
