const POINT = /^[+-]?(?:\d+(?:\.\d*)?|\.\d+)(?:[eE][+-]?\d+)?$/;
const COMMA = /^[+-]?(?:\d+(?:,\d+)?|,\d+)(?:[eE][+-]?\d+)?$/;
const GROUPED_POINT = /^[+-]?[1-9]\d{0,2}([,'\u2019\u00a0\u2009\u202f])\d{3}(?:\1\d{3})*(?:\.\d*)?$/;
const GROUPED_COMMA = /^[+-]?[1-9]\d{0,2}([.'\u2019\u00a0\u2009\u202f])\d{3}(?:\1\d{3})*(?:,\d+)?$/;
const GROUPS = /['\u2019\u00a0\u2009\u202f]/g;
// U+0096 is the en dash of windows-1252 as some decoders leave it.
const MINUS = /[\u0096\u2010\u2011\u2012\u2013\u2212\ufe63\uff0d]/g;
const INVISIBLE = /[\u200b-\u200f\u2060\ufeff]/g;
const NOT_FINITE =
  /^[+-]?(?:nan|inf(?:inity)?|\u221e|1[.,]?#[a-z]+\d*)$|^(?:#?n\/?a|null|none|-{1,3}|\?+|\*+|#num!|#value!|#div\/0!)$/i;
const LONGEST = 200;
const LONGEST_WORD = 40;

/** Reads cells as numbers with one decimal sign; strict, so that no text and no other notation slips through. */
export class NumberReader {
  /** How many of the numbers read so far had thousands separators in them. */
  grouped = 0;
  private readonly plain: RegExp;
  private readonly groups: RegExp;

  constructor(readonly decimal: '.' | ',') {
    this.plain = decimal === '.' ? POINT : COMMA;
    this.groups = decimal === '.' ? GROUPED_POINT : GROUPED_COMMA;
  }

  /** The number in a cell; NaN where it holds none. May be infinite where the number is too big. */
  read(cell: string): number {
    if (this.plain.test(cell)) return this.convert(cell);
    if (cell.length > LONGEST || !/\d/.test(cell)) return Number.NaN;
    const clean = tidy(cell);
    if (this.plain.test(clean)) return this.convert(clean);
    if (!this.groups.test(clean)) return Number.NaN;
    this.grouped++;
    const joined = clean.replace(GROUPS, '').replaceAll(this.decimal === '.' ? ',' : '.', '');
    return this.convert(joined);
  }

  private convert(text: string): number {
    return Number(this.decimal === '.' ? text : text.replace(',', '.'));
  }
}

/** Whether a cell is empty or says in the place of a number that there is none: NaN, Inf, n/a, a dash. */
export function saysNoNumber(cell: string): boolean {
  if (cell.length > LONGEST_WORD) return false;
  const clean = tidy(cell);
  return clean === '' || NOT_FINITE.test(clean);
}

function tidy(cell: string): string {
  return cell
    .replace(INVISIBLE, '')
    .trim()
    .replace(MINUS, '-')
    .replace(/^([+-])\s+/, '$1')
    .replace(/[dD](?=[+-]?\d+$)/, 'e');
}
