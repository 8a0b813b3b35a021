import type { CaveatValue } from '../model/caveat';
import type { Curve } from '../model/curve';
import { makeRefusal, type RefusalValues } from '../words/makeRefusal';

/** How to read a text. Whatever is left out (or blank) is found out, and reported in the notes. */
export interface TextOptions {
  /** File name, with or without its path: gives the label, and is what `namePattern` reads. */
  name?: string;
  /** What the file name says, such as '{device}_{setting}_step-{step}'; see `readFileName`. */
  namePattern?: string;
  /** dB a {step} stands for, default 3. */
  stepDb?: number;
  /** One character; a blank stands for any run of blanks and tabs. */
  delimiter?: string;
  decimal?: '.' | ',';
  /** A name from the WHATWG encoding standard, such as 'utf-8', 'utf-16le', 'windows-1252'. */
  encoding?: string;
  /** By heading (any case; the unit may be left out) or by number, the first column being 1. */
  columns?: {
    frequency?: string | number;
    level?: string | number;
    phase?: string | number;
    noise?: string | number;
  };
  frequencyUnit?: 'Hz' | 'kHz';
  /** 'linear': levels are 20 lg of what the column holds. */
  levelUnit?: 'dB' | 'linear';
  role?: Curve['role'];
  scale?: Curve['scale'];
  /** Refuse texts with more points, default 1,000,000. */
  maxPoints?: number;
}

/** Options with blanks removed and everything needed filled in. */
export interface CheckedTextOptions extends Omit<TextOptions, 'columns'> {
  /** How messages call the text. */
  called: string;
  columns: NonNullable<TextOptions['columns']>;
  maxPoints: number;
}

type Wanted = RefusalValues<'bad-option'>['wanted'];

const CHOICES: Record<string, { wanted: Wanted; allowed: readonly string[] }> = {
  decimal: { wanted: 'decimal', allowed: ['.', ','] },
  frequencyUnit: { wanted: 'frequency-unit', allowed: ['Hz', 'kHz'] },
  levelUnit: { wanted: 'level-unit', allowed: ['dB', 'linear'] },
  role: { wanted: 'curve-role', allowed: ['response', 'noise', 'correction'] },
  scale: { wanted: 'scale', allowed: ['spl', 'relative'] },
};
const COLUMN_KEYS = ['frequency', 'level', 'phase', 'noise'] as const;

/**
 * Check the options of `importText`.
 *
 * @throws BassloomError `bad-option`, `unknown-encoding`, `contradictory-options`, each naming the field.
 */
export function checkTextOptions(options: TextOptions): CheckedTextOptions {
  const known = withoutBlanks(options);
  for (const [field, { wanted, allowed }] of Object.entries(CHOICES)) {
    const value = known[field];
    if (value !== undefined && !allowed.includes(value as string)) {
      bad(field, wanted, value);
    }
  }
  for (const field of ['name', 'namePattern', 'delimiter', 'encoding']) {
    if (known[field] !== undefined && typeof known[field] !== 'string') bad(field, 'text', known[field]);
  }
  const { delimiter, decimal, encoding, maxPoints, stepDb } = known as TextOptions;
  if (delimiter !== undefined && (delimiter.length !== 1 || /[\p{L}\p{N}"+\-.\r\n\0\ufeff]/u.test(delimiter))) {
    bad('delimiter', 'delimiter', delimiter);
  }
  if (delimiter !== undefined && delimiter === decimal) {
    throw makeRefusal('contradictory-options', { delimiter }, { field: 'delimiter' });
  }
  if (encoding !== undefined) checkEncoding(encoding);
  if (maxPoints !== undefined && !(Number.isInteger(maxPoints) && maxPoints >= 2)) {
    bad('maxPoints', 'most-points', maxPoints);
  }
  if (stepDb !== undefined && !Number.isFinite(stepDb)) bad('stepDb', 'step-db', stepDb);
  return {
    ...(known as TextOptions),
    called: known.name === undefined ? 'text' : baseName(known.name as string),
    columns: checkColumns(known.columns),
    maxPoints: maxPoints ?? 1_000_000,
  };
}

function checkColumns(columns: unknown): CheckedTextOptions['columns'] {
  if (columns === undefined) return {};
  if (typeof columns !== 'object' || columns === null) bad('columns', 'columns', columns);
  const known = withoutBlanks(columns as object);
  for (const key of COLUMN_KEYS) {
    const value = known[key];
    const isHeading = typeof value === 'string';
    if (value !== undefined && !isHeading && !(Number.isInteger(value) && (value as number) >= 1)) {
      bad(`columns.${key}`, 'column', value);
    }
  }
  return known;
}

function checkEncoding(encoding: string): void {
  try {
    new TextDecoder(encoding);
  } catch (cause) {
    throw makeRefusal('unknown-encoding', { encoding }, { field: 'encoding', cause });
  }
}

/** Settings left blank in a dialog arrive as '' or null and mean: not given. A blank as delimiter is a value. */
function withoutBlanks(options: object): Record<string, unknown> {
  return Object.fromEntries(
    Object.entries(options).filter(([, value]) => value !== undefined && value !== null && value !== ''),
  );
}

function baseName(name: string): string {
  return name.slice(Math.max(name.lastIndexOf('/'), name.lastIndexOf('\\')) + 1);
}

function bad(field: string, wanted: Wanted, value: unknown): never {
  throw makeRefusal('bad-option', { wanted, value: value as CaveatValue }, { field });
}
