import type { Curve } from '../../model/curve';
import { BassloomError } from '../../model/errors';
import { deriveCurve } from '../../model/makeCurve';

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
    throw new BassloomError('already-calibrated', `${curve.label} is in dB SPL already; calibrate a curve only once.`, {
      field: 'scale',
    });
  }
  if (curve.role === 'harmonic' || curve.role === 'correction') {
    throw new BassloomError(
      'not-a-level',
      `${curve.label} is a ${curve.role}, which has no level of its own; calibrate responses and noise.`,
      { field: 'role' },
    );
  }
  if (!Number.isFinite(fullScaleDb)) {
    throw new BassloomError('calibration-level', `Full scale is ${fullScaleDb}; give dB SPL, such as 120.`, {
      field: 'fullScaleDb',
    });
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
