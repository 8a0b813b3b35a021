import type { z as Zod } from 'zod';
import type { RedApi } from './nodeRed';
import { splitNumbers } from './splitNumbers';

type Z = typeof Zod;

const UNCLEAR_NUMBERS = 'it is unclear which commas are decimal; write 1.5; 3';

/** One setting of a node: how it is checked, and where its value comes from when the dialog leaves it blank. */
export interface Field<T> {
  /** What numbers must keep to, for the dialog too: the build hands it to the editor. */
  limits?: Limits;
  /** There may be several. */
  isList?: boolean;
  schema(z: Z): Zod.ZodType;
  /** Used when neither the dialog, the message nor the procedure says anything. */
  otherwise?: T;
  /** Name of the procedure's setting that fills a blank. */
  procedure?: string;
  /** The setting refers to a configuration node; this reads the plain object that a message brings instead. */
  config?(value: Record<string, unknown>, RED: RedApi): T;
}

// biome-ignore lint/suspicious/noExplicitAny: a set of fields of any types
export type Fields = Record<string, Field<any>>;

/** What a node's function gets to see of its fields. */
export type Values<F extends Fields> = { [K in keyof F]: F[K] extends Field<infer T> ? T : never };

interface Blank {
  procedure?: string;
}
export interface Limits {
  above?: number;
  min?: number;
  max?: number;
  whole?: boolean;
}
type Numeric = Limits & Blank;

/** A number, also written as text; a decimal comma is understood. */
export function number(options: Numeric & { otherwise: number }): Field<number>;
export function number(options: Numeric): Field<number | undefined>;
export function number({
  otherwise,
  procedure,
  ...limits
}: Numeric & { otherwise?: number }): Field<number | undefined> {
  return { schema: (z) => z.preprocess(toNumber, numberWithin(z, limits)), otherwise, procedure, limits };
}

/** Several numbers above zero: an array, or text as `splitNumbers` reads it. */
export function numbers(options: { max: number; otherwise: number[] }): Field<number[]>;
export function numbers(options: { max: number; otherwise?: number[] }): Field<number[] | undefined>;
export function numbers({ max, otherwise }: { max: number; otherwise?: number[] }): Field<number[] | undefined> {
  const limits = { above: 0, max };
  const split = (value: unknown) => splitNumbers(typeof value === 'number' ? String(value) : value);
  const what = 'numbers are needed, with commas between them';
  return {
    schema: (z) => {
      const clear = z.custom((value) => value !== 'unclear', UNCLEAR_NUMBERS);
      return z.preprocess(split, clear.pipe(z.array(numberWithin(z, limits), what).min(1, what)));
    },
    ...{ otherwise, limits, isList: true },
  };
}

/** A number within limits. */
export function numberWithin(z: Z, { above, min, max, whole }: Limits) {
  let schema = z.number('a number is needed');
  if (whole) schema = schema.int('a whole number is needed');
  if (above !== undefined) schema = schema.gt(above, `it must be above ${above}`);
  if (min !== undefined) schema = schema.gte(min, `it must not be below ${min}`);
  if (max !== undefined) schema = schema.lte(max, `it must not be above ${max}`);
  return schema;
}

/** One of a few words. */
export function choice<const T extends string>(values: readonly T[], options: { otherwise: T }): Field<T>;
export function choice<const T extends string>(values: readonly T[]): Field<T | undefined>;
export function choice<const T extends string>(
  values: readonly T[],
  options: { otherwise?: T } = {},
): Field<T | undefined> {
  return { schema: (z) => z.enum(values, `one of ${values.join(', ')} is needed`), otherwise: options.otherwise };
}

/** Text of at least one character. */
export function text(options: { otherwise: string }): Field<string>;
export function text(options?: Blank): Field<string | undefined>;
export function text(options: Blank & { otherwise?: string } = {}): Field<string | undefined> {
  return {
    schema: (z) =>
      z.preprocess((value) => (typeof value === 'number' ? String(value) : value), z.string('text is needed').min(1)),
    otherwise: options.otherwise,
    procedure: options.procedure,
  };
}

/** A tick: always said by the dialog. */
export function flag(otherwise: boolean): Field<boolean> {
  const words: Record<string, boolean> = { true: true, false: false };
  return {
    schema: (z) => z.preprocess((value) => words[String(value)] ?? value, z.boolean('true or false is needed')),
    otherwise,
  };
}

/** A configuration node, or what a message brings in its place. */
export function config<T>(read: (value: Record<string, unknown>, RED: RedApi) => T): Field<T | undefined> {
  return { schema: (z) => z.unknown(), config: read };
}

function toNumber(value: unknown): unknown {
  return typeof value === 'string' && value.trim() !== '' ? Number(value.trim().replace(',', '.')) : value;
}
