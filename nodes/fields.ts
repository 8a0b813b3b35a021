import type { z as Zod } from 'zod';
import type { RedApi } from './nodeRed';

type Z = typeof Zod;

/** One setting of a node: how it is checked, and where its value comes from when the dialog leaves it blank. */
export interface Field<T> {
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
interface Limits extends Blank {
  above?: number;
  min?: number;
  max?: number;
  whole?: boolean;
}

/** A number, also written as text; a decimal comma is understood. */
export function number(limits: Limits & { otherwise: number }): Field<number>;
export function number(limits: Limits): Field<number | undefined>;
export function number(limits: Limits & { otherwise?: number }): Field<number | undefined> {
  return {
    schema: (z) => {
      let schema = z.number('a number is needed');
      if (limits.whole) schema = schema.int('a whole number is needed');
      if (limits.above !== undefined) schema = schema.gt(limits.above, `it must be above ${limits.above}`);
      if (limits.min !== undefined) schema = schema.gte(limits.min, `it must not be below ${limits.min}`);
      if (limits.max !== undefined) schema = schema.lte(limits.max, `it must not be above ${limits.max}`);
      return z.preprocess(toNumber, schema);
    },
    otherwise: limits.otherwise,
    procedure: limits.procedure,
  };
}

/** Several numbers above zero: an array, or text with commas, semicolons or blanks between them. */
export function numbers(options: { otherwise: number[] }): Field<number[]>;
export function numbers(options?: { otherwise?: number[] }): Field<number[] | undefined>;
export function numbers(options: { otherwise?: number[] } = {}): Field<number[] | undefined> {
  const split = (value: unknown): unknown => {
    if (typeof value === 'number') return [value];
    if (typeof value !== 'string') return value;
    return value
      .split(/[\s;,]+/)
      .filter((part) => part !== '')
      .map(Number);
  };
  const what = 'numbers above 0 are needed, with commas between them';
  return {
    schema: (z) => z.preprocess(split, z.array(z.number(what).gt(0, what), what).min(1, what)),
    otherwise: options.otherwise,
  };
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
