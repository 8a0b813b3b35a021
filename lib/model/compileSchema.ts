import type { z } from 'zod';

/** The first thing that is wrong with a value: where in it, what is there and what is needed. */
export interface Fault {
  path: (string | number)[];
  found: unknown;
  needed: string;
}

type Find = (value: unknown) => Fault | undefined;

/** What is read of a zod schema's inside; see https://zod.dev/packages/core. */
interface Inside {
  type: string;
  shape?: Record<string, z.ZodType>;
  element?: z.ZodType;
  innerType?: z.ZodType;
  valueType?: z.ZodType;
  options?: z.ZodType[];
  items?: z.ZodType[];
  values?: unknown[];
  entries?: Record<string, string>;
  checks?: { _zod: { def: Record<string, unknown> } }[];
}

/**
 * Make a function of a zod schema that finds the first fault of a value, some twenty times as fast on long columns as
 * zod itself. Unlike zod it passes over properties that the schema does not know.
 *
 * @param without properties of an object that are not looked at either.
 *
 * @example
 * compileSchema(z.object({ hz: z.array(z.number()) }))({ hz: [20, null] })
 * // { path: ['hz', 1], found: null, needed: 'a number' }
 */
export function compileSchema(schema: z.ZodType, without: readonly string[] = []): Find {
  const inside = schema._zod.def as unknown as Inside;
  const of = (part: z.ZodType | undefined) => compileSchema(part as z.ZodType);
  switch (inside.type) {
    case 'object':
      return objectOf(
        Object.entries(inside.shape ?? {})
          .filter(([key]) => !without.includes(key))
          .map(([key, part]) => [key, compileSchema(part)]),
      );
    case 'array':
      return arrayOf(inside);
    case 'tuple':
      return tupleOf((inside.items ?? []).map(of));
    case 'record':
      return recordOf(of(inside.valueType));
    case 'optional':
      return blankOr(undefined, of(inside.innerType));
    case 'nullable':
      return blankOr(null, of(inside.innerType));
    case 'union':
      return anyOf(inside.options ?? []);
    case 'literal':
      return oneOf(inside.values ?? []);
    case 'enum':
      return oneOf(Object.values(inside.entries ?? {}));
    case 'number':
      return numberWith(inside);
    default:
      return plain(schema, inside);
  }
}

/** A fault's place, such as `about.driveDb` or `steps[2].did`. */
export function pathOf({ path }: Fault): string {
  return path.map((key, i) => (typeof key === 'number' ? `[${key}]` : i === 0 ? key : `.${key}`)).join('');
}

function fault(found: unknown, needed: string): Fault {
  return { path: [], found, needed };
}

function below(key: string | number, inner: Fault): Fault {
  return { ...inner, path: [key, ...inner.path] };
}

function objectOf(parts: [string, Find][]): Find {
  return (value) => {
    if (!isObject(value)) return fault(value, 'an object');
    for (const [key, find] of parts) {
      const inner = find(value[key]);
      if (inner) return below(key, inner);
    }
    return undefined;
  };
}

function arrayOf({ element, checks }: Inside): Find {
  const find = compileSchema(element as z.ZodType);
  const isLong = checks !== undefined; // min(1) is the only one in use
  const own = (element as z.ZodType)._zod.def as unknown as Inside;
  const orNull = own.type === 'nullable';
  const least = leastOf(orNull ? ((own.innerType as z.ZodType)._zod.def as unknown as Inside) : own);
  return (value) => {
    if (!Array.isArray(value)) return fault(value, 'a plain array');
    if (isLong && value.length === 0) return fault(value, 'an array with something in it');
    // columns are what takes time
    const from = least === undefined ? 0 : finites(value, least, orNull);
    for (let i = from; i < value.length; i++) {
      const inner = find(value[i]);
      if (inner) return below(i, inner);
    }
    return undefined;
  };
}

/** What plain numbers must be above; none for those of which more is asked. */
function leastOf({ type, checks = [] }: Inside): number | undefined {
  if (type !== 'number' || checks.length > 1) return undefined;
  if (checks.length === 0) return Number.NEGATIVE_INFINITY;
  const { check, value, inclusive } = checks[0]._zod.def;
  return check === 'greater_than' && !inclusive ? (value as number) : undefined;
}

/** How many numbers above `least`, or nulls where they may stand for one, an array begins with. */
function finites(column: unknown[], least: number, orNull: boolean): number {
  let i = 0;
  for (; i < column.length; i++) {
    const value = column[i];
    if (orNull && value === null) continue;
    // infinite less infinite is no number
    if (typeof value !== 'number' || value - value !== 0 || !(value > least)) break;
  }
  return i;
}

function tupleOf(items: Find[]): Find {
  return (value) => {
    if (!Array.isArray(value) || value.length !== items.length) return fault(value, `an array of ${items.length}`);
    for (const [i, find] of items.entries()) {
      const inner = find(value[i]);
      if (inner) return below(i, inner);
    }
    return undefined;
  };
}

function recordOf(find: Find): Find {
  return (value) => {
    if (!isObject(value)) return fault(value, 'an object');
    for (const key of Object.keys(value)) {
      const inner = find(value[key]);
      if (inner) return below(key, inner);
    }
    return undefined;
  };
}

function blankOr(blank: null | undefined, find: Find): Find {
  return (value) => (value === blank ? undefined : find(value));
}

/**
 * One of several shapes. Where objects tell theirs by a property of theirs, such as a step's `did`, only that shape is
 * tried, so that it is told what is wrong with it.
 */
function anyOf(options: z.ZodType[]): Find {
  const named = new Map<unknown, Find>();
  const others: Find[] = [];
  let tag = '';
  for (const option of options) {
    const { shape = {} } = option._zod.def as unknown as Inside;
    const [key, first] = Object.entries(shape)[0] ?? [];
    const { values } = (first?._zod.def ?? {}) as Inside;
    if (key && values) {
      tag = key;
      named.set(values[0], compileSchema(option));
    } else others.push(compileSchema(option));
  }
  return (value) => {
    const byName = named.size > 0 && isObject(value) ? named.get(value[tag]) : undefined;
    if (byName) return byName(value);
    let deepest: Fault | undefined;
    const needed = new Set<string>();
    for (const find of others) {
      const inner = find(value);
      if (!inner) return undefined;
      needed.add(inner.needed);
      if (!deepest || inner.path.length > deepest.path.length) deepest = inner;
    }
    return deepest && deepest.path.length > 0 ? deepest : fault(value, [...needed].join(' or '));
  };
}

function oneOf(values: unknown[]): Find {
  const needed = values.map((value) => JSON.stringify(value)).join(' or ');
  return (value) => (values.includes(value) ? undefined : fault(value, needed));
}

function numberWith({ checks = [] }: Inside): Find {
  let least = Number.NEGATIVE_INFINITY;
  let most = Number.POSITIVE_INFINITY;
  let isLeastIn = true;
  let isWhole = false;
  for (const { _zod } of checks) {
    const { check, value, inclusive } = _zod.def as { check: string; value: number; inclusive: boolean };
    if (check === 'greater_than') [least, isLeastIn] = [value, inclusive];
    if (check === 'less_than') most = value;
    if (check === 'number_format') isWhole = true;
  }
  const bounds = [
    least > Number.NEGATIVE_INFINITY ? (isLeastIn ? ` not below ${least}` : ` above ${least}`) : '',
    most < Number.POSITIVE_INFINITY ? ` not above ${most}` : '',
  ].filter(Boolean);
  const needed = `a ${isWhole ? 'whole ' : ''}number${bounds.join(' and')}`;
  return (value) =>
    typeof value === 'number' &&
    value - value === 0 &&
    (value > least || (isLeastIn && value === least)) &&
    value <= most &&
    (!isWhole || Number.isInteger(value))
      ? undefined
      : fault(value, needed);
}

function plain(schema: z.ZodType, { type }: Inside): Find {
  if (type === 'unknown') return () => undefined;
  if (type === 'null') return oneOf([null]);
  if (type === 'boolean') return (value) => (typeof value === 'boolean' ? undefined : fault(value, 'true or false'));
  if (type === 'string' && !schema._zod.def.checks) {
    return (value) => (typeof value === 'string' ? undefined : fault(value, 'text'));
  }
  // the few that are rare enough for zod's own pace
  return (value) => {
    const { error } = schema.safeParse(value);
    return error && fault(value, type === 'string' ? 'another text' : error.issues[0].message);
  };
}

function isObject(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}
