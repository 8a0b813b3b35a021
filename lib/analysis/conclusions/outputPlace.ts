import type { MaximumOutput, OutputAssumption } from '../../model/findings';

/** Where bursts were measured, and whether their levels are told at 1 m and 2 m or as they were at the microphone. */
export interface OutputPlace {
  place: OutputAssumption['place'];
  /** Distances of the microphone, m. */
  metres: number[];
  /** Brought to 1 m and 2 m: all centres that passed, or none. */
  isConverted: boolean;
}

/** A level of a centre or an average as the finding has it. */
type Levels = Pick<MaximumOutput['averages'][number], 'levelAtMicrophoneDb' | 'peakAt1mDb'>;

/** Say what the levels of a finding hold for: at 1 m where all centres that passed were brought there, else at the microphone. */
export function outputPlace({ assumption, centres }: Pick<MaximumOutput, 'assumption' | 'centres'>): OutputPlace {
  const { place, measuredAtM: metres } = assumption;
  const passed = centres.filter((one) => one.levelAtMicrophoneDb !== null || one.peakAt1mDb !== null);
  const isConverted = metres.length > 0 && passed.length > 0 && passed.every(({ peakAt1mDb }) => peakAt1mDb !== null);
  return { place, metres, isConverted };
}

/** The peak level that is told of a centre or an average, dB; null where none passed. */
export function peakIn({ levelAtMicrophoneDb, peakAt1mDb }: Levels, { isConverted }: OutputPlace): number | null {
  return isConverted ? peakAt1mDb : levelAtMicrophoneDb;
}

/** Whether a level is 'at least': only the unit's own limits end it, the rest ends what was tried. */
export function isAtLeast({ stoppedBy }: Pick<MaximumOutput['centres'][number], 'stoppedBy'>): boolean {
  return stoppedBy !== 'distortion' && stoppedBy !== 'compression';
}
