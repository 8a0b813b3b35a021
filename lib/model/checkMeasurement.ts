import { checkColumns } from './checkColumns';
import { compileSchema, pathOf } from './compileSchema';
import type { Curve, Measurement } from './curve';
import { refuseValue } from './refusals';
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
    const [field] = place.replace(/^msg\./, '').split('[');
    const isObject = typeof value === 'object' && value !== null;
    const ofKind = kind === undefined ? null : showValue(kind);
    refuseValue('not-measurements', { place, found: isObject ? null : showValue(value), kind: ofKind }, { field });
  }
  const named = typeof label === 'string' ? label : '';
  const what = named === '' ? place : `${place} (${named})`;
  const fault = (isCurve ? ofCurve : ofRecording)(value);
  if (fault) {
    const field = pathOf(fault);
    const said = { label: what, found: showValue(fault.found), needed: fault.needed };
    refuseValue('bad-measurement', said, { field, measurement: named });
  }
  if (isCurve) {
    checkColumns(what, value as Curve, named);
    const { role, order } = value as Curve;
    if (role === 'harmonic' && order === undefined) {
      const said = { label: what, found: showValue(order), needed: 'the number of the harmonic, 2 or more,' };
      refuseValue('bad-measurement', said, { field: 'order', measurement: named });
    }
  }
  return value as Measurement;
}
