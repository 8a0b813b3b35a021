import { makeCaveat } from '../../words/makeCaveat';
import { makeRefusal } from '../../words/makeRefusal';
import type { Calibration } from './calibration';

const REFERENCE_PA = 20e-6;
/** Full scale of measuring chains lies between: outside, a unit was mistaken (common practice, no source). */
const LIKELY_DB = [80, 175];

/**
 * Work out what digital full scale is worth from the sensitivity of the microphone.
 *
 * @param known.sensitivityMvPerPa of the microphone at 1 Pa (94 dB), mV/Pa. @param known.fullScaleV rms voltage of the
 * sine that just reaches full scale, V, where gainDb is 0. @param known.gainDb gain between microphone and there, dB; 0
 * where left out.
 * @returns the calibration; its caveats say that it was not measured, and where it looks like a mistaken unit.
 * @throws BassloomError `calibration-sensitivity`.
 *
 * Notes: pressure at full scale = fullScaleV / (sensitivity * gain); level = 20 lg (pressure / 20 uPa).
 *
 * @example
 * calibrateFromSensitivity({ sensitivityMvPerPa: 50, fullScaleV: 1 }).fullScaleDb // 120: 1 V is 20 Pa
 */
export function calibrateFromSensitivity(known: {
  sensitivityMvPerPa: number;
  fullScaleV: number;
  gainDb?: number;
}): Calibration {
  const { sensitivityMvPerPa, fullScaleV, gainDb = 0 } = known;
  checkAbove0('sensitivityMvPerPa', sensitivityMvPerPa);
  checkAbove0('fullScaleV', fullScaleV);
  if (!Number.isFinite(gainDb)) refuse('gainDb', gainDb);
  const pascals = fullScaleV / ((sensitivityMvPerPa / 1000) * 10 ** (gainDb / 20));
  const fullScaleDb = 20 * Math.log10(pascals / REFERENCE_PA);
  const isUnlikely = fullScaleDb < LIKELY_DB[0] || fullScaleDb > LIKELY_DB[1];
  return {
    fullScaleDb,
    from: 'sensitivity',
    caveats: [
      makeCaveat('calibration-from-figures', 'remark', {}),
      ...(isUnlikely ? [makeCaveat('calibration-unlikely', 'doubt', { fullScaleDb })] : []),
    ],
  };
}

function checkAbove0(field: 'sensitivityMvPerPa' | 'fullScaleV', value: number): void {
  if (!(value > 0 && Number.isFinite(value))) refuse(field, value);
}

function refuse(known: 'sensitivityMvPerPa' | 'fullScaleV' | 'gainDb', value: number): never {
  throw makeRefusal('calibration-sensitivity', { known, value }, { field: known });
}
