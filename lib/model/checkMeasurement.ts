import { checkColumns } from './checkColumns';
import { compileSchema, pathOf } from './compileSchema';
import type { Curve, Measurement } from './curve';
import { BassloomError } from './errors';
import { curveSchema, recordingSchema } from './schemas';
import { showValue } from './showValue';

const COLUMNS = ['frequencyHz', 'levelDb', 'phaseDeg', 'noiseDb'];
const ofCurve = compileSchema(curveSchema, COLUMNS);
const ofRecording = compileSchema(recordingSchema);

/**
 * Check that something is a measurement, whole and sound, as it must be before an analysis may trust it. Properties that
 * are not known are passed over. The sound in a recording is not looked at.
 *
 * @param value what may be a measurement. @param place where it came from, such as `msg.payload[3]`.
 * @returns the same value.
 * @throws BassloomError `not-measurements` where it is something else, `bad-measurement` where a field is wrong, and as
 * `checkColumns` does; `measurement` is its label, `field` the field, `index` the place in a column.
 *
 * @example
 * checkMeasurement(JSON.parse(text), text.name);
 */
export function checkMeasurement(value: unknown, place: string): Measurement {
  const { kind, label, frequencyHz, wav } = (value ?? {}) as Partial<Curve & { wav: unknown }>;
  const isCurve = kind === 'curve' && frequencyHz !== undefined;
  if (!isCurve && !((kind as unknown) === 'recording' && wav !== undefined)) {
    const what = kind === undefined ? 'no measurement' : `no measurement of kind ${showValue(kind)}`;
    const [field] = place.replace(/^msg\./, '').split('[');
    throw new BassloomError(
      'not-measurements',
      `${place} is ${typeof value === 'object' && value !== null ? `an object that is ${what}` : showValue(value)}; ` +
        'a measurement is needed, as the import node makes it.',
      { field },
    );
  }
  const named = typeof label === 'string' ? label : '';
  const what = named === '' ? place : `${place} (${named})`;
  const fault = (isCurve ? ofCurve : ofRecording)(value);
  if (fault) {
    const field = pathOf(fault);
    const message = `${what}: ${field} is ${showValue(fault.found)}; ${fault.needed} is needed.`;
    throw new BassloomError('bad-measurement', message, { field, measurement: named });
  }
  if (isCurve) {
    checkColumns(what, value as Curve, named);
    const { role, order } = value as Curve;
    if (role === 'harmonic' && order === undefined) {
      const message = `${what}: order is missing; a harmonic needs its number, 2 or more.`;
      throw new BassloomError('bad-measurement', message, { field: 'order', measurement: named });
    }
  }
  return value as Measurement;
}
