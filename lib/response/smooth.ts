import type { Curve } from '../model/curve';
import { deriveCurve } from '../model/makeCurve';
import { makeRefusal } from '../words/makeRefusal';
import { smoothLevels } from './smoothLevels';
import { smoothPhase } from './smoothPhase';

/**
 * Smooth a curve over a fraction of an octave.
 *
 * Level and noise are power-averaged over f G^(-1/2n) .. f G^(+1/2n), G = 10^0.3, as the exact integral of the
 * piecewise-linear power over frequency; the phase is averaged as in `smoothPhase`.
 *
 * @param curve any curve. @param options.fraction n of 1/n octave, > 0: 3 for third octaves.
 * @returns a new curve on the same frequencies.
 * @throws BassloomError `bad-fraction`.
 *
 * A harmonic is a ratio to its fundamental, and that ratio's power is averaged: where the fundamental has a narrow dip
 * inside the window, the result lies above the ratio of the averages, which is what `measureDistortion` gives.
 *
 * At the ends the window shrinks so that it stays centred: the first and the last point are left as they are.
 * Reference: IEC 61260-1:2014, 5.2 and 5.5.
 *
 * @example
 * smooth(makeCurve({ frequencyHz: [20, 25, 32, 40], levelDb: [80, 70, 82, 84] }), { fraction: 3 })
 */
export function smooth(curve: Curve, options: { fraction: number }): Curve {
  const fraction = options?.fraction;
  if (!(fraction > 0 && Number.isFinite(fraction))) {
    throw makeRefusal('bad-fraction', { label: curve.label, fraction }, { field: 'fraction' });
  }
  const { frequencyHz, levelDb, phaseDeg, noiseDb } = curve;
  return deriveCurve(
    curve,
    {
      levelDb: smoothLevels(frequencyHz, levelDb, fraction),
      ...(phaseDeg && { phaseDeg: smoothPhase(frequencyHz, phaseDeg, fraction) }),
      ...(noiseDb && { noiseDb: smoothLevels(frequencyHz, noiseDb, fraction) }),
    },
    { did: 'smooth', with: { fraction } },
  );
}
