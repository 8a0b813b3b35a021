import type { Caveat } from '../../lib/model/caveat';
import type { Curve, Measurement } from '../../lib/model/curve';
import { captureOf } from '../../lib/response/captureWarnings';
import { makeCaveat } from '../../lib/words/makeCaveat';
import type { Library } from '../define';

/**
 * Put responses and noise runs that are re full scale on the scale of sound pressure; all else stays as it is.
 *
 * @returns notes on curves of which it is not known that they are re full scale.
 */
export function calibrateAll(lib: Library, measurements: Measurement[], fullScaleDb: number) {
  const notes: Caveat[] = [];
  const payload = measurements.map((one) => {
    if (!isLevel(one)) return one;
    if (captureOf(one) === undefined) {
      notes.push(makeCaveat('calibration-reference-unknown', 'doubt', { label: one.label }, { curve: one.id }));
    }
    return lib.applyCalibration(one, fullScaleDb);
  });
  return { payload, notes };
}

function isLevel(one: Measurement): one is Curve {
  return one.kind === 'curve' && one.scale === 'relative' && (one.role === 'response' || one.role === 'noise');
}
