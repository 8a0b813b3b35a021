import type { Curve } from '../model/curve';
import { BassloomError } from '../model/errors';

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

const CHOICES: Record<string, readonly string[]> = {
  decimal: ['.', ','],
  frequencyUnit: ['Hz', 'kHz'],
  levelUnit: ['dB', 'linear'],
  role: ['response', 'noise', 'correction'],
  scale: ['spl', 'relative'],
};
const COLUMN_KEYS = ['frequency', 'level', 'phase', 'noise'] as const;

/**
 * Check the options of `importText`.
 *
 * @throws BassloomError `bad-option`, `unknown-encoding`, `contradictory-options`, each naming the field.
 */
export function checkTextOptions(options: TextOptions): CheckedTextOptions {
  const known = withoutBlanks(options);
  for (const [field, allowed] of Object.entries(CHOICES)) {
    const value = known[field];
    if (value !== undefined && !allowed.includes(value as string)) {
      bad(field, `${String(value)} is not one of ${allowed.map((choice) => `'${choice}'`).join(', ')}`);
    }
  }
  for (const field of ['name', 'namePattern', 'delimiter', 'encoding']) {
    if (known[field] !== undefined && typeof known[field] !== 'string') bad(field, 'it must be text');
  }
  const { delimiter, decimal, encoding, maxPoints, stepDb } = known as TextOptions;
  if (delimiter !== undefined && (delimiter.length !== 1 || /[\p{L}\p{N}"+\-.\r\n\0\ufeff]/u.test(delimiter))) {
    bad('delimiter', `'${delimiter}' cannot separate columns; give one character such as ',', ';', a tab or a blank`);
  }
  if (delimiter !== undefined && delimiter === decimal) {
    throw new BassloomError(
      'contradictory-options',
      `'${delimiter}' cannot be both the delimiter and the decimal sign; change one of the two.`,
      { field: 'delimiter' },
    );
  }
  if (encoding !== undefined) checkEncoding(encoding);
  if (maxPoints !== undefined && !(Number.isInteger(maxPoints) && maxPoints >= 2)) {
    bad('maxPoints', 'it must be a whole number of at least 2');
  }
  if (stepDb !== undefined && !Number.isFinite(stepDb)) bad('stepDb', 'it must be a number of dB');
  return {
    ...(known as TextOptions),
    called: known.name === undefined ? 'text' : baseName(known.name as string),
    columns: checkColumns(known.columns),
    maxPoints: maxPoints ?? 1_000_000,
  };
}

function checkColumns(columns: unknown): CheckedTextOptions['columns'] {
  if (columns === undefined) return {};
  if (typeof columns !== 'object' || columns === null) bad('columns', 'it must name columns, as { frequency, level }');
  const known = withoutBlanks(columns as object);
  for (const key of COLUMN_KEYS) {
    const value = known[key];
    const isHeading = typeof value === 'string';
    if (value !== undefined && !isHeading && !(Number.isInteger(value) && (value as number) >= 1)) {
      bad(`columns.${key}`, 'give a heading, or a number counted from 1');
    }
  }
  return known;
}

function checkEncoding(encoding: string): void {
  try {
    new TextDecoder(encoding);
  } catch (cause) {
    throw new BassloomError(
      'unknown-encoding',
      `The encoding '${encoding}' is not known; give one such as 'utf-8', 'utf-16le' or 'windows-1252', or none.`,
      { field: 'encoding', cause },
    );
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

function bad(field: string, why: string): never {
  throw new BassloomError('bad-option', `Option ${field}: ${why}.`, { field });
}
