import type { MaximumOutput, OutputAssumption } from '../model/findings';

/** Where bursts were measured, and whether levels could be brought to 1 m and 2 m from there. */
export interface OutputShape {
  place: OutputAssumption['place'];
  /** Distances of the microphone, m. */
  metres: number[];
  isConverted: boolean;
}

/** What the levels of a finding hold for. */
export function outputShape({ assumption, centres }: MaximumOutput): OutputShape {
  const { place, measuredAtM } = assumption;
  const isConverted = measuredAtM.length > 0 && centres.some(({ rmsAt2mDb }) => rmsAt2mDb !== null);
  return { place, metres: measuredAtM, isConverted };
}

/** The level that is shown of a centre or an average: at 1 m where it was brought there, else at the microphone. */
export function shownPeak(
  { levelAtMicrophoneDb, peakAt1mDb }: { levelAtMicrophoneDb: number | null; peakAt1mDb: number | null },
  { isConverted }: OutputShape,
): number | null {
  return isConverted ? peakAt1mDb : levelAtMicrophoneDb;
}
