import type { Curve, Measurement } from '../lib/model/curve';
import { BassloomError } from '../lib/model/errors';
import type { Findings } from '../lib/model/findings';
import type { Message } from './nodeRed';

/**
 * The measurements in a message; a single one counts as an array of one.
 *
 * @throws BassloomError `not-measurements`.
 */
export function measurementsIn(message: Message): Measurement[] {
  const list: unknown[] = Array.isArray(message.payload) ? message.payload : [message.payload];
  const bad = list.findIndex((item) => !isMeasurement(item));
  if (list.length > 0 && bad < 0) return list as Measurement[];
  const held = list.length === 0 ? 'is an empty array' : `holds ${describe(list[bad])} at place ${bad + 1}`;
  const what = Array.isArray(message.payload) ? held : `is ${describe(message.payload)}`;
  throw new BassloomError(
    'not-measurements',
    `msg.payload ${what}; an array of measurements is needed, as the import node makes it.`,
    { field: 'payload' },
  );
}

/**
 * The responses among measurements: what analyses look at.
 *
 * @throws BassloomError `no-responses`.
 */
export function responsesIn(measurements: Measurement[]): Curve[] {
  const responses = curvesIn(measurements).filter((curve) => curve.role === 'response');
  if (responses.length > 0) return responses;
  throw new BassloomError(
    'no-responses',
    'msg.payload holds no response, only noise runs, corrections or recordings.',
    {
      field: 'payload',
    },
  );
}

/** The curves among measurements, of whatever role. */
export function curvesIn(measurements: Measurement[]): Curve[] {
  return measurements.filter((measurement) => measurement.kind === 'curve');
}

/**
 * What earlier nodes found.
 *
 * @throws BassloomError `not-findings`.
 */
export function findingsIn(message: Message): Findings {
  const findings = message.findings ?? {};
  if (typeof findings === 'object' && !Array.isArray(findings)) return findings as Findings;
  throw new BassloomError('not-findings', `msg.findings is ${describe(findings)}; an object is needed.`, {
    field: 'findings',
  });
}

/** Whether something has the shape of a measurement; its numbers are not looked at. */
export function isMeasurement(item: unknown): boolean {
  if (typeof item !== 'object' || item === null) return false;
  const { kind, about, steps, frequencyHz, levelDb, wav } = item as Record<string, unknown>;
  if (typeof about !== 'object' || about === null || !Array.isArray(steps)) return false;
  if (kind === 'recording') return ArrayBuffer.isView(wav);
  return kind === 'curve' && Array.isArray(frequencyHz) && Array.isArray(levelDb);
}

function describe(value: unknown): string {
  if (value === null || value === undefined) return 'nothing';
  if (Buffer.isBuffer(value)) return 'a Buffer';
  if (Array.isArray(value)) return 'an array';
  return typeof value === 'object' ? 'an object that is no measurement' : `a ${typeof value}`;
}
