import type { Curve } from '../model/curve';
import { BassloomError } from '../model/errors';
import { deriveCurve } from '../model/makeCurve';
import { stepsOf } from '../model/step';
import { type Weighting, weightingDb } from '../signal/weighting';

/**
 * Weight a curve as a sound level meter does.
 *
 * @param curve a response or noise. @param weighting 'A', 'C', or 'Z' (none).
 * @returns a new curve: level and noise weighted; the phase, which a meter does not define, is left alone.
 * @throws BassloomError `already-weighted` where it carries A or C; `not-a-level` for harmonics and corrections;
 * `weighting-kind`.
 *
 * Notes: for exposure rules only. A-weighting takes 30 to 70 dB from low bass; never judge a subwoofer by it.
 *
 * Reference: IEC 61672-1:2013, see `weightingDb`.
 *
 * @example
 * weightCurve(makeCurve({ frequencyHz: [20, 100], levelDb: [100, 100] }), 'A').levelDb // [55.3..., 80.9]
 */
export function weightCurve(curve: Curve, weighting: Weighting): Curve {
  if (curve.role === 'harmonic' || curve.role === 'correction') {
    throw new BassloomError(
      'not-a-level',
      `${curve.label} is a ${curve.role}, which has no level of its own; weight responses and noise.`,
      { field: 'role' },
    );
  }
  const before = stepsOf(curve, 'frequency weighting').find((step) => step.with.weighting !== 'Z');
  if (before) {
    throw new BassloomError(
      'already-weighted',
      `${curve.label} is ${before.with.weighting}-weighted already; weight the curve as it was measured.`,
      { field: 'weighting' },
    );
  }
  const gain = curve.frequencyHz.map((hz) => weightingDb(weighting, hz));
  const weight = (levels: number[]) => levels.map((level, i) => level + gain[i]);
  return deriveCurve(
    curve,
    { levelDb: weight(curve.levelDb), ...(curve.noiseDb && { noiseDb: weight(curve.noiseDb) }) },
    { did: 'frequency weighting', with: { weighting } },
  );
}
