import { checkColumns } from './checkColumns';
import { compileSchema, pathOf } from './compileSchema';
import { BassloomError } from './errors';
import type { Findings } from './findings';
import { findingsSchema } from './schemas';
import { showValue } from './showValue';

const { shape } = findingsSchema._zod.def as unknown as { shape: Record<keyof Findings, unknown> };
const KEYS: (keyof Findings)[] = (Object.keys(shape) as (keyof Findings)[]).filter((key) => key !== 'conclusions');
const finders = new Map(
  KEYS.map((key) => [key, compileSchema(findingsSchema, [...KEYS.filter((one) => one !== key), 'conclusions'])]),
);

/**
 * Check that something has the shape of findings, as it must have before a node may read them. Properties that are not
 * known are passed over.
 *
 * @param keys which of them are looked at; the conclusions never, for they are drawn anew.
 * @throws BassloomError `not-findings` where it is something else, `bad-findings` where a field is wrong; `field` says
 * which.
 *
 * @example
 * checkFindings({ ladder: 'high' }) // throws: msg.findings: ladder is "high"; a plain array is needed.
 */
export function checkFindings(value: unknown, keys: readonly (keyof Findings)[] = KEYS): Findings {
  if (typeof value !== 'object' || value === null || Array.isArray(value)) {
    const message = `msg.findings is ${showValue(value)}; an object is needed.`;
    throw new BassloomError('not-findings', message, { field: 'findings' });
  }
  const refuse = (field: string, what: string): never => {
    throw new BassloomError('bad-findings', `msg.findings: ${field} ${what}.`, { field });
  };
  for (const key of keys) {
    const fault = finders.get(key)?.(value);
    if (fault) refuse(pathOf(fault), `is ${showValue(fault.found)}; ${fault.needed} is needed`);
  }
  const looked = Object.fromEntries(keys.map((key) => [key, (value as Findings)[key]])) as Findings;
  const { ladder = [], distortion = [], settingDifference = [] } = looked;
  for (const [key, list] of Object.entries({ ladder, distortion })) {
    for (const [i, { rungs, bandsHz, ...tables }] of list.entries()) {
      for (const name of TABLES) {
        const table = (tables as Record<string, unknown>)[name] as unknown[][] | undefined;
        if (table === undefined) continue;
        const field = () => `${key}[${i}].${name}`;
        if (table.length !== rungs.length) refuse(field(), `has ${table.length} rows for ${rungs.length} rungs`);
        const odd = table.findIndex((row) => row.length !== bandsHz.length);
        if (odd >= 0) refuse(`${field()}[${odd}]`, `has ${table[odd].length} values for ${bandsHz.length} bands`);
      }
    }
  }
  for (const [i, { curve }] of settingDifference.entries()) {
    checkColumns(`msg.findings: settingDifference[${i}].curve`, curve, curve.label);
  }
  return value as Findings;
}

/** Of ladder and distortion: [rung][band]. */
const TABLES = ['levelDb', 'compressionDb', 'snrDb', 'trusted', 'thdPercent', 'noisePercent'];
