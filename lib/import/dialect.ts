import type { Caveat } from '../model/caveat';
import { makeCaveat } from '../words/makeCaveat';
import { BLANKS, splitLine, withoutEmptyEnd } from './lines';
import { NumberReader, saysNoNumber } from './numberReader';

/** How a text is laid out. */
export interface Dialect {
  delimiter: string;
  decimal: '.' | ',';
  /** No number of the sample has a decimal sign, so that the sign is still open. */
  decimalOpen: boolean;
  /** What could also have been meant, for the notes. */
  doubt?: Caveat;
  /** Sampled rows, in the order of the text. */
  rows: string[][];
  /** What their cells hold; NaN where no number. */
  numbers: number[][];
  /** How many cells with numbers most rows have. */
  numericCells: number;
  /** How many cells most rows have. */
  cellCount: number;
  /** How many cells of most rows hold words. */
  wordCells: number;
  /** How many cells most rows have, without empty ones at the end. */
  filledCount: number;
}

interface Candidate {
  delimiter: string;
  decimal: '.' | ',';
  rows: string[][];
  score: number;
  grouped: number;
  /** The first numbers only rise or only fall. */
  ordered: boolean;
  /** Many first numbers below a thousand hold no sign, all from a thousand on do: so thousands look, not decimals. */
  likeThousands: boolean;
  /** How many second numbers are beyond any level. */
  wild: number;
  /** All numbers read, to tell whether two readings differ. */
  values: string;
}

/**
 * Find the delimiter and decimal sign under which most of the sampled lines read as rows of numbers.
 *
 * @param lines lines that look like data. @param fixed what is known already.
 * @returns undefined where no reading gives two numbers in a row.
 *
 * Where a sign could mark decimals or thousands ('1,234;80'), the reading is taken under which the second number
 * is a level, else the one under which the first column keeps its direction, else the one under which only large
 * frequencies hold the sign, else decimals; where none of the first two decides, `doubt` says so.
 */
export function findDialect(lines: string[], fixed: { delimiter?: string; decimal?: '.' | ',' }): Dialect | undefined {
  const sample = lines.join('\n');
  const delimiters = fixed.delimiter ? [fixed.delimiter] : [';', '\t', ',', BLANKS].filter((d) => occurs(d, sample));
  const candidates = delimiters.flatMap((delimiter) => {
    const rows = lines.map((line) => splitLine(line, delimiter));
    const decimals = (fixed.decimal ? [fixed.decimal] : (['.', ','] as const)).filter(
      (decimal) => decimal === '.' || fixed.decimal || mayBeDecimalComma(delimiter, sample),
    );
    return decimals.map((decimal) => weigh(delimiter, decimal, rows));
  });
  const best = Math.max(...candidates.map((candidate) => candidate.score));
  if (!(best > 0)) return undefined;
  // The order of `delimiters` is the order of preference where two of them read equally well.
  const leader = candidates.find((candidate) => candidate.score > best - 1e-9) as Candidate;
  const rival = candidates.find(
    (other) => other !== leader && other.delimiter === leader.delimiter && other.score > best - 1e-9,
  );
  return settle(leader, rival, sample, fixed.decimal);
}

/** How many cells of a row hold numbers, or say that there is none; and how many hold words that do neither. */
export function countCells(cells: string[], numbers: number[] | NumberReader): { numeric: number; words: number } {
  let [numeric, words] = [0, 0];
  cells.forEach((cell, i) => {
    const value = Array.isArray(numbers) ? numbers[i] : numbers.read(cell);
    if (!Number.isNaN(value)) numeric++;
    else if (saysNoNumber(cell)) numeric += cell.trim() === '' ? 0 : 1;
    else if (/\p{L}/u.test(cell)) words++;
  });
  return { numeric, words };
}

function occurs(delimiter: string, sample: string): boolean {
  return delimiter === BLANKS ? /[ \t]/.test(sample) : sample.includes(delimiter);
}

/** Between commas, decimal commas can only stand inside quotes; elsewhere points might group thousands. */
function mayBeDecimalComma(delimiter: string, sample: string): boolean {
  if (delimiter === ',') return sample.includes('"');
  return sample.includes(',') || /\d\.\d{3}(?!\d)/.test(sample);
}

function weigh(delimiter: string, decimal: '.' | ',', rows: string[][]): Candidate {
  const reader = new NumberReader(decimal);
  let score = 0;
  let wild = 0;
  let [grouped, small, large] = [0, 0, 0];
  let rises = 0;
  let falls = 0;
  let last = Number.NaN;
  const values: number[] = [];
  for (const cells of rows) {
    const numbers: number[] = [];
    const groupedBefore = reader.grouped;
    let other = 0;
    for (const cell of cells) {
      const value = reader.read(cell);
      if (!Number.isNaN(value) && numbers.push(value) === 1) {
        if (reader.grouped > groupedBefore) grouped++;
        else if (value < 1000) small++;
        else large++;
      } else if (!Number.isNaN(value)) continue;
      else if (!saysNoNumber(cell)) other++;
    }
    // Blanks part prose as well; a row of data is at least half numbers there.
    if (numbers.length < 2 || (delimiter === BLANKS && other > numbers.length)) continue;
    score += numbers.length / (numbers.length + other);
    if (numbers[0] < last) falls++;
    if (numbers[0] > last) rises++;
    if (Math.abs(numbers[1]) > 300) wild++;
    last = numbers[0];
    values.push(...numbers);
  }
  return {
    delimiter,
    decimal,
    rows,
    score,
    grouped: reader.grouped,
    ordered: rises === 0 || falls === 0,
    wild,
    // Points that group thousands are rarer than commas that do, so more must speak for them.
    likeThousands: grouped >= (decimal === ',' ? 10 : 1) && large === 0 && small > 0.1 * rows.length,
    values: values.join(),
  };
}

function settle(leader: Candidate, rival: Candidate | undefined, sample: string, known: string | undefined): Dialect {
  let chosen = leader;
  let doubt: Caveat | undefined;
  if (rival && rival.values !== leader.values) {
    const better = compare(rival, leader);
    chosen = better < 0 ? rival : leader;
    if (!isPlain(rival, leader)) doubt = doubtOf(chosen, sample.includes(',') ? ',' : '.');
  }
  const reader = new NumberReader(chosen.decimal);
  const read = chosen.rows
    .map((cells) => ({ cells, numbers: cells.map((cell) => reader.read(cell)) }))
    .map((row) => ({ ...row, ...countCells(row.cells, row.numbers) }))
    .filter(({ numeric }) => numeric >= 2);
  return {
    delimiter: chosen.delimiter,
    decimal: chosen.decimal,
    decimalOpen: known === undefined && !read.some(({ cells }) => cells.some((cell) => /[.,]\d/.test(cell))),
    ...(doubt && { doubt }),
    rows: read.map(({ cells }) => cells),
    numbers: read.map(({ numbers }) => numbers),
    numericCells: mostFrequent(read.map(({ numeric }) => numeric)),
    cellCount: mostFrequent(read.map(({ cells }) => cells.length)),
    wordCells: mostFrequent(read.map(({ words }) => words)),
    filledCount: mostFrequent(read.map(({ cells }) => withoutEmptyEnd(cells).length)),
  };
}

/** Of two readings with the same delimiter: levels that are levels, frequencies in order, signs where thousands have them. */
function compare(a: Candidate, b: Candidate): number {
  return (
    a.wild - b.wild ||
    Number(b.ordered) - Number(a.ordered) ||
    Number(b.likeThousands) - Number(a.likeThousands) ||
    a.grouped - b.grouped
  );
}

/** Whether one of two readings is absurd: levels beyond any, or frequencies that jump to and fro. */
function isPlain(a: Candidate, b: Candidate): boolean {
  return a.wild !== b.wild || a.ordered !== b.ordered;
}

function doubtOf({ delimiter, decimal }: Candidate, sign: '.' | ','): Caveat | undefined {
  // Three decimals after a point are too common to be worth a word where nothing speaks against them.
  if (sign === '.' && decimal === '.' && delimiter !== ';') return undefined;
  return makeCaveat('decimal-sign-unsure', 'doubt', { sign, taken: sign === decimal ? 'decimal' : 'thousands' });
}

function mostFrequent(counts: number[]): number {
  const times = new Map<number, number>();
  for (const count of counts) times.set(count, (times.get(count) ?? 0) + 1);
  return [...times].reduce((a, b) => (b[1] > a[1] ? b : a))[0];
}
