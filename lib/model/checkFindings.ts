import { checkColumns } from './checkColumns';
import { compileSchema, type Fault, pathOf } from './compileSchema';
import type { Findings } from './findings';
import { refuseValue } from './refusals';
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
 * @throws BassloomError `not-findings` where it is something else, `bad-findings` where a field is wrong,
 * `unequal-findings` where a table is; `field` says which.
 *
 * @example
 * checkFindings({ ladder: 'high' }) // throws: msg.findings: ladder is "high"; a plain array is needed.
 */
export function checkFindings(value: unknown, keys: readonly (keyof Findings)[] = KEYS): Findings {
  if (typeof value !== 'object' || value === null || Array.isArray(value)) {
    refuseValue('not-findings', { found: showValue(value) }, { field: 'findings' });
  }
  for (const key of keys) {
    const fault: Fault | undefined = finders.get(key)?.(value);
    if (!fault) continue;
    refuseValue('bad-findings', { found: showValue(fault.found), needed: fault.needed }, { field: pathOf(fault) });
  }
  const looked = Object.fromEntries(keys.map((key) => [key, (value as Findings)[key]])) as Findings;
  const { ladder = [], distortion = [], settingDifference = [] } = looked;
  for (const [key, list] of Object.entries({ ladder, distortion })) {
    for (const [i, { rungs, bandsHz, ...tables }] of list.entries()) {
      for (const name of TABLES) {
        const table = (tables as Record<string, unknown>)[name] as unknown[][] | undefined;
        if (table === undefined) continue;
        const field = (): string => `${key}[${i}].${name}`;
        sameLength(field, table, rungs, 'rungs');
        for (const [j, row] of table.entries()) sameLength(() => `${field()}[${j}]`, row, bandsHz, 'bands');
      }
    }
  }
  for (const [i, { curve }] of settingDifference.entries()) {
    checkColumns(`msg.findings: settingDifference[${i}].curve`, curve, curve.label);
  }
  return value as Findings;
}

function sameLength(
  field: () => string,
  { length }: unknown[],
  { length: wanted }: unknown[],
  of: 'rungs' | 'bands',
): void {
  if (length !== wanted) refuseValue('unequal-findings', { length, wanted, of }, { field: field() });
}

/** Of ladder and distortion: [rung][band]. */
const TABLES = ['levelDb', 'compressionDb', 'snrDb', 'trusted', 'thdPercent', 'noisePercent'];
