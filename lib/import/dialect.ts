import { BLANKS, splitLine } from './lines';
import { NumberReader, saysNoNumber } from './numberReader';

/** How a text is laid out. */
export interface Dialect {
  delimiter: string;
  decimal: '.' | ',';
  /** No number of the sample has a decimal sign, so that the sign is still open. */
  decimalOpen: boolean;
  /** What could also have been meant, for the notes. */
  doubt?: string;
  /** Sampled rows, in the order of the text. */
  rows: string[][];
  /** How many cells with numbers most rows have. */
  numericCells: number;
  /** How many cells most rows have. */
  cellCount: number;
}

interface Candidate {
  delimiter: string;
  decimal: '.' | ',';
  rows: string[][];
  score: number;
  grouped: number;
  /** How often a first number is below the one before. */
  descents: number;
  /** All numbers read, to tell whether two readings differ. */
  values: string;
}

/**
 * Find the delimiter and decimal sign under which most of the sampled lines read as rows of numbers.
 *
 * @param lines lines that look like data. @param fixed what is known already.
 * @returns undefined where no reading gives two numbers in a row.
 *
 * Where a sign could mark decimals or thousands ('1,234;80'), the reading under which the first column
 * falls less often is taken, else decimals; `doubt` then says so.
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

/** How many cells of a row hold numbers, or say that there is none. */
export function numericCells(cells: string[], reader: NumberReader): number {
  let count = 0;
  for (const cell of cells) {
    if (!Number.isNaN(reader.read(cell)) || (cell.trim() !== '' && saysNoNumber(cell))) count++;
  }
  return count;
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
  let descents = 0;
  let last = Number.NEGATIVE_INFINITY;
  const values: number[] = [];
  for (const cells of rows) {
    const numbers: number[] = [];
    let other = 0;
    for (const cell of cells) {
      const value = reader.read(cell);
      if (!Number.isNaN(value)) numbers.push(value);
      else if (!saysNoNumber(cell)) other++;
    }
    // Blanks part prose as well; a row of data is at least half numbers there.
    if (numbers.length < 2 || (delimiter === BLANKS && other > numbers.length)) continue;
    score += numbers.length / (numbers.length + other);
    if (numbers[0] < last) descents++;
    last = numbers[0];
    values.push(...numbers);
  }
  return { delimiter, decimal, rows, score, grouped: reader.grouped, descents, values: values.join() };
}

function settle(leader: Candidate, rival: Candidate | undefined, sample: string, known: string | undefined): Dialect {
  let chosen = leader;
  let doubt: string | undefined;
  if (rival && rival.values !== leader.values) {
    const rivalIsBetter =
      rival.descents !== leader.descents ? rival.descents < leader.descents : rival.grouped < leader.grouped;
    if (rivalIsBetter) chosen = rival;
    const sign = sample.includes(',') ? ',' : '.';
    // Three decimals after a point are too common to be worth a word where nothing speaks against them.
    const isPlain = sign === '.' && chosen.decimal === '.' && chosen.delimiter !== ';';
    doubt = isPlain
      ? undefined
      : sign === chosen.decimal
        ? `'${sign}' could also have grouped thousands; if it does, set the decimal sign to '${sign === ',' ? '.' : ','}'`
        : `'${sign}' could also have been the decimal sign; if it is, set the decimal sign to '${sign}'`;
  }
  const reader = new NumberReader(chosen.decimal);
  const rows = chosen.rows.map((cells) => [numericCells(cells, reader), cells.length]).filter(([n]) => n >= 2);
  return {
    delimiter: chosen.delimiter,
    decimal: chosen.decimal,
    decimalOpen: known === undefined && chosen.delimiter !== ',' && !/[.,]\d/.test(sample),
    ...(doubt && { doubt }),
    rows: chosen.rows,
    numericCells: mostFrequent(rows.map(([n]) => n)),
    cellCount: mostFrequent(rows.map(([, n]) => n)),
  };
}

function mostFrequent(counts: number[]): number {
  const times = new Map<number, number>();
  for (const count of counts) times.set(count, (times.get(count) ?? 0) + 1);
  return [...times].reduce((a, b) => (b[1] > a[1] ? b : a))[0];
}
