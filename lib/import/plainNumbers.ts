import { BLANKS } from './lines';

const [TAB, BLANK, QUOTE, PLUS, MINUS, ZERO, NINE] = [9, 32, 34, 43, 45, 48, 57];
/** Whole numbers of so many digits and powers of ten up to so many are exact, and so is the rounding of their quotient. */
const EXACT_DIGITS = 15;
const POWERS = Array.from({ length: 23 }, (_, i) => 10 ** i);
const MOST_CELLS = 64;

/**
 * Reads rows that hold nothing but plain numbers, perhaps quoted, straight from the text: the same numbers as cell by
 * cell, without making strings. What is not plain it leaves to the thorough reader.
 */
export class PlainNumbers {
  /** Numbers of the last row read; NaN for an empty cell at its end. */
  readonly values = new Float64Array(MOST_CELLS);
  private readonly delimiter: number;
  private readonly decimal: number;
  private readonly hasTabs: boolean;
  private at = 0;

  constructor(
    private readonly text: string,
    delimiter: string,
    decimal: '.' | ',',
  ) {
    this.delimiter = delimiter === BLANKS ? -1 : delimiter.charCodeAt(0);
    this.decimal = decimal.charCodeAt(0);
    this.hasTabs = delimiter !== '\t';
  }

  /** Read the row from one place to another. @returns how many cells it has; 0 where it is not plain. */
  read(from: number, to: number): number {
    this.at = from;
    for (let count = 0; count < MOST_CELLS; ) {
      const before = this.at;
      this.skipBlanks(to);
      if (this.at === to && (count === 0 || this.delimiter < 0)) return count;
      if (this.delimiter < 0 && count > 0 && this.at === before) return 0;
      if (this.at === to) {
        this.values[count] = Number.NaN;
        return count + 1;
      }
      const value = this.cell(to);
      if (Number.isNaN(value)) return 0;
      this.values[count++] = value;
      if (this.delimiter < 0) continue;
      this.skipBlanks(to);
      if (this.at === to) return count;
      if (this.text.charCodeAt(this.at++) !== this.delimiter) return 0;
    }
    return 0;
  }

  private skipBlanks(to: number): void {
    for (; this.at < to; this.at++) {
      const code = this.text.charCodeAt(this.at);
      if (code !== BLANK && !(code === TAB && this.hasTabs)) return;
    }
  }

  private cell(to: number): number {
    const { text } = this;
    // where the delimiter is the decimal sign as well, it is the latter only in quotes
    if (text.charCodeAt(this.at) !== QUOTE) return this.number(to, this.decimal === this.delimiter ? -1 : this.decimal);
    this.at++;
    const value = this.number(to, this.decimal);
    return this.at < to && text.charCodeAt(this.at++) === QUOTE ? value : Number.NaN;
  }

  private number(to: number, decimal: number): number {
    const { text } = this;
    const from = this.at;
    let at = from;
    let code = text.charCodeAt(at);
    const isNegative = code === MINUS;
    if (isNegative || code === PLUS) at++;
    let [whole, digits, decimals, point] = [0, 0, 0, -1];
    for (; at < to; at++) {
      code = text.charCodeAt(at);
      if (code >= ZERO && code <= NINE) {
        whole = whole * 10 + (code - ZERO);
        digits++;
        if (point >= 0) decimals++;
      } else if (code === decimal && point < 0) point = at;
      else break;
    }
    this.at = at;
    // '5.' is a number, '5,' is not sure to be one
    if (digits === 0 || digits > EXACT_DIGITS || (point >= 0 && decimals === 0)) return Number.NaN;
    const value = whole / POWERS[decimals];
    return isNegative ? -value : value;
  }
}
