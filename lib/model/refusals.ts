import type { CaveatValues } from './caveat';
import { BassloomError } from './errors';

/** The column that is wrong. */
export interface Where {
  field?: string;
}

/** What is wrong with a measurement, its columns, or findings. The catalogue's English, kept here because the model cannot ask words. */
export const modelRefusals = {
  'not-an-array': ({ label, found, typed }: { label: string; found: string; typed: boolean }, { field }: Where) =>
    `${label}: ${field} is ${found}; ${typed ? `use Array.from(${field})` : 'a plain array of numbers is needed'}.`,
  'empty-curve': ({ label }: { label: string }, { field }: Where) =>
    `${label}: ${field ?? 'frequencyHz'} is empty; a curve needs at least one point.`,
  'unequal-columns': ({ label, length, wanted }: { label: string; length: number; wanted: number }, { field }: Where) =>
    `${label}: ${field} has ${length} ${length === 1 ? 'value' : 'values'}, frequencyHz has ${wanted}; they must be equal.`,
  'not-a-number': (
    { label, index, found }: { label: string | null; index: number; found?: string },
    { field }: Where,
  ) =>
    `${label === null ? '' : `${label}: `}${field}[${index}] is ${found === undefined ? 'not a finite number' : `${found}; a number is needed`}.`,
  'frequency-not-rising': (
    { label, index, hz }: { label: string; index: number; hz: number },
    _where: Where,
    say: { exact(value: number): string },
  ) => `${label}: frequencyHz[${index}] is ${say.exact(hz)}; frequencies must be above 0 and strictly rising.`,
  'not-measurements': ({ place, found, kind }: { place: string; found: string | null; kind: string | null }) =>
    `${place} is ${found ?? `an object that is no measurement${kind === null ? '' : ` of kind ${kind}`}`}; a measurement is needed, as the import node makes it.`,
  'bad-measurement': ({ label, found, needed }: { label: string; found: string; needed: string }, { field }: Where) =>
    `${label}: ${field} is ${found}; ${needed} is needed.`,
  'not-findings': ({ found }: { found: string }) => `msg.findings is ${found}; an object is needed.`,
  'bad-findings': ({ found, needed }: { found: string; needed: string }, { field }: Where) =>
    `msg.findings: ${field} is ${found}; ${needed} is needed.`,
  'unequal-findings': (
    { length, wanted, of }: { length: number; wanted: number; of: 'rungs' | 'bands' },
    { field }: Where,
  ) =>
    of === 'rungs'
      ? `msg.findings: rows of ${field} and rungs must be equal in number; there are ${length} and ${wanted}.`
      : `msg.findings: values of ${field} and bands must be equal in number; there are ${length} and ${wanted}.`,
};

/** @throws BassloomError with that code, its message made from values and field. */
export function refuseValue<C extends keyof typeof modelRefusals>(
  code: C,
  values: Parameters<(typeof modelRefusals)[C]>[0],
  about: { field?: string; index?: number; measurement?: string },
): never {
  const phrase = modelRefusals[code] as (
    values: unknown,
    where: Where,
    say: { exact(value: number): string },
  ) => string;
  const message = phrase(values, about, { exact: String });
  throw new BassloomError(code, message, { ...about, values: values as CaveatValues });
}
