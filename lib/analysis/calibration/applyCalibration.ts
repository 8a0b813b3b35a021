import type { Curve } from '../../model/curve';
import { deriveCurve } from '../../model/makeCurve';
import { makeRefusal } from '../../words/makeRefusal';

/**
 * Turn levels re a full-scale sine into sound pressure levels.
 *
 * @param curve response or noise of a capture, dB re a full-scale sine. @param fullScaleDb level of a full-scale sine,
 * dB re 20 uPa, as a calibration gives it.
 * @returns a new curve of scale 'spl': level and noise raised by `fullScaleDb`.
 * @throws BassloomError `already-calibrated` where levels are SPL; `not-a-level` for harmonics and corrections, which
 * are levels re something else; `calibration-level` where `fullScaleDb` is no number.
 *
 * Notes: right only for curves from a capture made with the gain that the calibration was made with. A curve that was
 * imported with levels re an unknown constant cannot be told from one re full scale.
 *
 * @example
 * applyCalibration(makeCurve({ frequencyHz: [20, 40], levelDb: [-30, -24] }), 120).levelDb // [90, 96]
 */
export function applyCalibration(curve: Curve, fullScaleDb: number): Curve {
  if (curve.scale === 'spl') {
    throw makeRefusal('already-calibrated', { label: curve.label }, { field: 'scale' });
  }
  if (curve.role === 'harmonic' || curve.role === 'correction') {
    throw makeRefusal('not-a-level', { label: curve.label, role: curve.role, to: 'calibrate' }, { field: 'role' });
  }
  if (!Number.isFinite(fullScaleDb)) {
    throw makeRefusal('calibration-level', { level: fullScaleDb }, { field: 'fullScaleDb' });
  }
  const raise = (levels: number[]) => levels.map((level) => level + fullScaleDb);
  return deriveCurve(
    curve,
    {
      levelDb: raise(curve.levelDb),
      ...(curve.noiseDb && { noiseDb: raise(curve.noiseDb) }),
      scale: 'spl',
    },
    { did: 'calibrate', with: { fullScaleDb } },
  );
}
