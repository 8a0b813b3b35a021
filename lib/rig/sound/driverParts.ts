import type { HighPass, UnitSpec } from '../rigSpec';
import { type Gain, unitResponse } from '../unitResponse';

/**
 * Excursion of the cone for a signal of one level at all frequencies, re its value far below resonance.
 *
 * @param unit the loudspeaker. @param hz frequency, Hz.
 *
 * Notes: in a closed box a second-order low-pass at the resonance of the box, of its quality. For a vented box the
 * first section stands for the box, which leaves out the dip of the excursion at the vent's frequency.
 *
 * Reference: R. H. Small, Closed-Box Loudspeaker Systems, J. Audio Eng. Soc. 20 (1972) (from memory).
 *
 * @example
 * excursionGain(demoRig().unit, 1).db // about 0
 */
export function excursionGain(unit: UnitSpec, hz: number): Gain {
  const [{ f0Hz, q }] = unit.highPass;
  const x = hz / f0Hz;
  const [re, im] = [1 - x * x, x / q];
  return { db: -10 * Math.log10(re * re + im * im), deg: (-Math.atan2(im, re) * 180) / Math.PI };
}

/**
 * What is left of the unit once the excursion is known: two time derivatives, and the sections that follow.
 *
 * @returns the unit's own response less `excursionGain`; flat switch.
 */
export function radiationGain(unit: UnitSpec, hz: number): Gain {
  const whole = unitResponse(unit, { kind: 'flat' }, hz);
  const excursion = excursionGain(unit, hz);
  return { db: whole.db - excursion.db, deg: whole.deg - excursion.deg };
}

/** Level of the excursion, on the scale of `excursionGain`, that gives a level at 1 m at 20 Hz, dB. */
export function excursionLevelDb([{ f0Hz }]: [HighPass, ...HighPass[]], excursionAt20HzDb: number): number {
  return excursionAt20HzDb - 40 * Math.log10(20 / f0Hz);
}
