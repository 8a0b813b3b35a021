import type { Curve, Interval } from '../model/curve';
import { BassloomError } from '../model/errors';
import { interpolate } from '../model/interpolate';
import { deriveCurve } from '../model/makeCurve';
import { unwrap, wrap } from './unwrap';

/** Name of the step that a corrected curve carries. */
export const MICROPHONE_STEP = 'microphone correction';

/**
 * Take a microphone's own response out of a curve.
 *
 * The correction's level is subtracted from level and noise, its phase from the phase where both have one; it is read
 * on straight lines over log frequency.
 *
 * @param curve any curve not corrected before. @param correction response of the microphone, dB and degrees.
 * @returns a new curve. Where it reaches beyond the correction, the correction's end value is held and the step names
 * the ranges as `extrapolatedHz`.
 * @throws BassloomError `already-corrected`.
 *
 * @example
 * const microphone = makeCurve({ frequencyHz: [5, 20, 200], levelDb: [-6, -1, 0], role: 'correction' });
 * correctMicrophone(makeCurve({ frequencyHz: [10, 100], levelDb: [80, 90] }), microphone)
 */
export function correctMicrophone(curve: Curve, correction: Curve): Curve {
  const before = curve.steps.find(({ did }) => did === MICROPHONE_STEP);
  if (before) {
    throw new BassloomError(
      'already-corrected',
      `${curve.label} is already corrected with ${before.with.correction}; correct the curve as it was measured.`,
      { field: 'correction' },
    );
  }
  const { frequencyHz, levelDb, phaseDeg, noiseDb } = curve;
  const level = interpolate(correction.frequencyHz, correction.levelDb, frequencyHz);
  const phase = correction.phaseDeg && interpolate(correction.frequencyHz, unwrap(correction.phaseDeg), frequencyHz);
  const extrapolatedHz = beyond(frequencyHz, correction.frequencyHz);
  return deriveCurve(
    curve,
    {
      levelDb: levelDb.map((l, i) => l - level[i]),
      ...(noiseDb && { noiseDb: noiseDb.map((l, i) => l - level[i]) }),
      ...(phaseDeg && phase && { phaseDeg: phaseDeg.map((p, i) => wrap(p - phase[i])) }),
    },
    {
      did: MICROPHONE_STEP,
      with: {
        correction: correction.label,
        id: correction.id,
        ...(extrapolatedHz.length > 0 && { extrapolatedHz }),
      },
    },
  );
}

/** Ranges of a grid that lie outside another's. */
function beyond(frequencyHz: number[], known: number[]): Interval[] {
  const ranges: Interval[] = [];
  const [first, last] = [frequencyHz[0], frequencyHz[frequencyHz.length - 1]];
  const [low, high] = [known[0], known[known.length - 1]];
  if (first < low) ranges.push([first, Math.min(low, last)]);
  if (last > high) ranges.push([Math.max(high, first), last]);
  return ranges;
}
