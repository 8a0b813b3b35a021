import type { Curve, Interval } from '../model/curve';
import { interpolate } from '../model/interpolate';
import { deriveCurve } from '../model/makeCurve';
import { stepsOf } from '../model/step';
import { makeRefusal } from '../words/makeRefusal';
import { unwrap, wrap } from './unwrap';

/**
 * Take a microphone's own response out of a curve.
 *
 * The correction's level is subtracted from level and noise, its phase from the phase where both have one; it is read
 * on straight lines over log frequency. Harmonic n over the fundamental's frequency f is a ratio of two levels that the
 * microphone took at n f and at f: the difference of the correction at these two is subtracted, its phase with it.
 *
 * @param curve any curve not corrected before. @param correction response of the microphone, dB and degrees.
 * @returns a new curve. Where it reaches beyond the correction, the correction's end value is held and the step names
 * the ranges as `extrapolatedHz`, of a harmonic also those where n f does.
 * @throws BassloomError `already-corrected`.
 *
 * @example
 * const microphone = makeCurve({ frequencyHz: [5, 20, 200], levelDb: [-6, -1, 0], role: 'correction' });
 * correctMicrophone(makeCurve({ frequencyHz: [10, 100], levelDb: [80, 90] }), microphone)
 */
export function correctMicrophone(curve: Curve, correction: Curve): Curve {
  const before = stepsOf(curve, 'microphone correction')[0];
  if (before) {
    const values = { label: curve.label, correction: before.with.correction };
    throw makeRefusal('already-corrected', values, { field: 'correction' });
  }
  const { frequencyHz, levelDb, phaseDeg, noiseDb } = curve;
  const level = readFor(curve, correction.frequencyHz, correction.levelDb);
  const phase = correction.phaseDeg && readFor(curve, correction.frequencyHz, unwrap(correction.phaseDeg));
  const extrapolatedHz = beyond(frequencyHz, correction.frequencyHz, orderOf(curve));
  return deriveCurve(
    curve,
    {
      levelDb: levelDb.map((l, i) => l - level[i]),
      ...(noiseDb && { noiseDb: noiseDb.map((l, i) => l - level[i]) }),
      ...(phaseDeg && phase && { phaseDeg: phaseDeg.map((p, i) => wrap(p - phase[i])) }),
    },
    {
      did: 'microphone correction',
      with: {
        correction: correction.label,
        id: correction.id,
        ...(extrapolatedHz.length > 0 && { extrapolatedHz }),
      },
    },
  );
}

/** A column of the correction as a curve needs it: of a harmonic, by how much the microphone changed the ratio. */
function readFor(curve: Curve, knownHz: number[], values: number[]): number[] {
  const { frequencyHz } = curve;
  const order = orderOf(curve);
  const own = interpolate(knownHz, values, frequencyHz);
  if (order === 1) return own;
  const above = interpolate(
    knownHz,
    values,
    frequencyHz.map((hz) => order * hz),
  );
  return above.map((value, i) => value - own[i]);
}

/** Which multiple of its frequencies a curve's sound was at. */
function orderOf({ role, order }: Curve): number {
  return role === 'harmonic' ? (order ?? 1) : 1;
}

/** Ranges of a grid that lie outside another's, at the frequencies themselves or at their multiple. */
function beyond(frequencyHz: number[], known: number[], order: number): Interval[] {
  const ranges: Interval[] = [];
  const [first, last] = [frequencyHz[0], frequencyHz[frequencyHz.length - 1]];
  const [low, high] = [known[0], known[known.length - 1] / order];
  if (first < low) ranges.push([first, Math.min(low, last)]);
  if (last > high) ranges.push([Math.max(high, first), last]);
  const [below, above] = ranges;
  return above && below[1] >= above[0] ? [[below[0], above[1]]] : ranges;
}
