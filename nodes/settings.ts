import { BassloomError } from '../lib/model/errors';
import type { Field, Fields, Values } from './fields';
import type { Message, NodeConfig, RedApi } from './nodeRed';

/** A configuration node hands its checked settings to those who refer to it. */
export interface ConfigNode {
  read(): unknown;
}

/**
 * Settle every setting of a node for one message. The rule, the same for all: what the dialog says; where it is blank,
 * `msg.<name of the setting>`; then the procedure; then the default.
 *
 * @param message left out on deploy, when a message may still bring what is missing.
 * @throws BassloomError `bad-setting` with the setting's name in `field`.
 */
export function readSettings<F extends Fields>(
  RED: RedApi,
  fields: F,
  config: NodeConfig,
  message?: Message,
): Values<F> {
  const values: Record<string, unknown> = {};
  const names = Object.keys(fields).sort((a, b) => Number(b === 'procedure') - Number(a === 'procedure'));
  for (const name of names) {
    const field = fields[name];
    const procedure = values.procedure as Record<string, unknown> | undefined;
    if (!isBlank(config[name])) values[name] = check(RED, name, field, config[name], '');
    else if (!isBlank(message?.[name])) values[name] = check(RED, name, field, message?.[name], `, from msg.${name},`);
    else values[name] = (field.procedure && procedure?.[field.procedure]) ?? field.otherwise;
  }
  checkRanges(values, message !== undefined);
  return values as Values<F>;
}

/** Nothing written, or an environment variable that is not set. */
function isBlank(value: unknown): boolean {
  if (typeof value !== 'string') return value === undefined || value === null;
  return value.trim() === '' || /^\$\{[^{}\s]+\}$/.test(value);
}

function check(RED: RedApi, name: string, field: Field<unknown>, value: unknown, from: string): unknown {
  if (field.config && typeof value === 'object') return field.config(value as Record<string, unknown>, RED);
  if (field.config) return readConfigNode(RED, name, String(value));
  const { z } = require('zod') as typeof import('zod');
  const result = field.schema(z).safeParse(value);
  if (result.success) return result.data;
  const why = [...new Set(result.error.issues.map((issue) => issue.message))].join('; ');
  const shown = typeof value === 'number' ? value : JSON.stringify(value)?.slice(0, 60);
  throw new BassloomError('bad-setting', `Setting "${name}"${from} is ${shown}: ${why}.`, { field: name });
}

function readConfigNode(RED: RedApi, name: string, id: string): unknown {
  const node = RED.nodes.getNode(id) as ConfigNode | null | undefined;
  if (node?.read) return node.read();
  const what = `Setting "${name}" refers to a configuration node that is missing or disabled.`;
  throw new BassloomError('bad-setting', what, { field: name });
}

/** Of two settings named like `rangeLowHz` and `rangeHighHz`, both or none are given, the low one first. */
function checkRanges(values: Record<string, unknown>, complete: boolean): void {
  for (const low of Object.keys(values).filter((name) => name.endsWith('LowHz'))) {
    const high = low.replace(/LowHz$/, 'HighHz');
    if (values[low] === undefined && values[high] === undefined) continue;
    const missing = [low, high].find((name) => values[name] === undefined);
    if (missing ? !complete : Number(values[low]) < Number(values[high])) continue;
    throw new BassloomError(
      'bad-setting',
      `Settings "${low}" (${values[low]}) and "${high}" (${values[high]}): both are needed, the lower one first.`,
      { field: missing ?? high },
    );
  }
}
