import type { Curve } from '../model/curve';
import { deriveCurve } from '../model/makeCurve';
import { stepsOf } from '../model/step';
import { type Weighting, weightingDb } from '../signal/weighting';
import { makeRefusal } from '../words/makeRefusal';

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
    throw makeRefusal('not-a-level', { label: curve.label, role: curve.role, to: 'weight' }, { field: 'role' });
  }
  const before = stepsOf(curve, 'frequency weighting').find((step) => step.with.weighting !== 'Z');
  if (before) {
    const values = { label: curve.label, weighting: before.with.weighting };
    throw makeRefusal('already-weighted', values, { field: 'weighting' });
  }
  const gain = curve.frequencyHz.map((hz) => weightingDb(weighting, hz));
  const weight = (levels: number[]) => levels.map((level, i) => level + gain[i]);
  return deriveCurve(
    curve,
    { levelDb: weight(curve.levelDb), ...(curve.noiseDb && { noiseDb: weight(curve.noiseDb) }) },
    { did: 'frequency weighting', with: { weighting } },
  );
}
