import type { Curve, Measurement } from '../lib/model/curve';
import { BassloomError } from '../lib/model/errors';
import type { Message } from './nodeRed';

type Door = Pick<typeof import('../lib'), 'checkMeasurement'>;

/**
 * The measurements in a message, checked; a single one counts as an array of one.
 *
 * @throws BassloomError `not-measurements`, and as the library's `checkMeasurement` does.
 */
export function measurementsIn({ checkMeasurement }: Door, { payload }: Message): Measurement[] {
  if (!Array.isArray(payload)) return [checkMeasurement(payload, 'msg.payload')];
  if (payload.length > 0) return Array.from(payload, (item, i) => checkMeasurement(item, `msg.payload[${i}]`));
  throw new BassloomError(
    'not-measurements',
    'msg.payload is an empty array; measurements are needed, as the import node makes them.',
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

/** Whether something has the shape of a measurement; its numbers are not looked at. */
export function isMeasurement(item: unknown): boolean {
  if (typeof item !== 'object' || item === null) return false;
  const { kind, about, steps, frequencyHz, levelDb, wav } = item as Record<string, unknown>;
  if (typeof about !== 'object' || about === null || !Array.isArray(steps)) return false;
  if (kind === 'recording') return ArrayBuffer.isView(wav);
  return kind === 'curve' && Array.isArray(frequencyHz) && Array.isArray(levelDb);
}
