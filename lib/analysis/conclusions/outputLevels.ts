import type { MaximumOutput } from '../../model/findings';
import { nominalHz } from '../../model/octaves';
import { toHundredth } from './rounded';

type Centre = MaximumOutput['centres'][number];

/** Peak levels of bursts as they may be told. */
export interface OutputLevels {
  levels: { hz: number; levelDb: number; atLeast: boolean; trusted: boolean }[];
  /** Distance that levels were brought from and to, m; null where they are levels at the microphone. */
  fromM: number | null;
  toM: number | null;
}

/** Levels at 1 m where the finding has them of all centres that passed, else those at the microphone. */
export function outputLevels({ centres, measuredAtM }: MaximumOutput): OutputLevels {
  const passed = centres.filter((one) => levelOf(one, false) !== null);
  const isConverted = measuredAtM !== null && passed.every(({ peakAt1mDb }) => peakAt1mDb !== null);
  const levels = passed.map((centre) => ({
    hz: nominalHz(centre.centreHz),
    levelDb: levelOf(centre, isConverted) as number,
    // only the unit's own limits end a level; the rest ends what was tried
    atLeast: centre.stoppedBy !== 'distortion' && centre.stoppedBy !== 'compression',
    trusted: centre.trusted,
  }));
  return {
    levels,
    fromM: isConverted && measuredAtM !== null ? toHundredth(measuredAtM) : null,
    toM: isConverted ? 1 : null,
  };
}

function levelOf({ peakAt1mDb, levelAtMicrophoneDb }: Centre, isConverted: boolean): number | null {
  return isConverted ? peakAt1mDb : levelAtMicrophoneDb;
}
