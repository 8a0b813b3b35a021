import { type BandTruth, bandTruth } from './bandTruth';
import type { RigSpec } from './rigSpec';
import { type DipTruth, roomDipTruth } from './roomDipTruth';
import { type SettingTruth, settingTruth } from './settingTruth';

/** What is true of a session, whatever the measurement shows of it; plain JSON. */
export interface SessionTruth {
  step: { commandedDb: number; trueDb: number };
  /** `q` only of a sealed unit; `f0Hz` of a vented one is where its two asymptotes meet. */
  rollOff: { order: 2 | 4; f0Hz: number; q: number | null };
  /** One per setting; `compressionTruth` reads the ladder's figures off it. */
  bands: BandTruth[];
  /** Every setting against the first. */
  differences: SettingTruth[];
  /** 15 to 200 Hz, prominence 3 dB and more. */
  dips: DipTruth[];
}

/**
 * Reckon everything that is true of a rig, independently of the analysis and of the measured numbers.
 *
 * @param rig the bench.
 * @returns plain JSON.
 *
 * @example
 * sessionTruth(drawRig(1)).rollOff.f0Hz
 */
export function sessionTruth(rig: RigSpec): SessionTruth {
  return {
    step: { commandedDb: rig.drive.commandedStepDb, trueDb: rig.drive.trueStepDb },
    rollOff: rollOffTruth(rig),
    bands: bandTruth(rig),
    differences: rig.settings.slice(1).map((setting) => settingTruth(setting, rig.settings[0])),
    dips: roomDipTruth(rig),
  };
}

/** The high-pass that a rig's unit is. */
export function rollOffTruth({ unit }: RigSpec): SessionTruth['rollOff'] {
  const [first, second] = unit.highPass;
  if (!second) return { order: 2, f0Hz: first.f0Hz, q: first.q };
  return { order: 4, f0Hz: Math.sqrt(first.f0Hz * second.f0Hz), q: null };
}
