import type { MaximumOutput } from '../model/findings';

type Centre = MaximumOutput['centres'][number];
type Average = MaximumOutput['averages'][number];

export type Place = 'free field' | 'half space' | 'room' | 'unknown';

/** Where bursts were measured, and whether levels could be brought to 1 m and 2 m from there. */
export interface OutputShape {
  place: Place;
  /** Distances of the microphone, m. */
  metres: number[];
  isConverted: boolean;
}

/** What the levels of a finding hold for. */
export function outputShape(output: MaximumOutput): OutputShape {
  const assumption: unknown = output.assumption;
  const told = typeof assumption === 'object' && assumption !== null ? (assumption as Partial<OutputAssumption>) : {};
  const metres = told.measuredAtM ?? (output.measuredAtM === null ? [] : [output.measuredAtM]);
  const isConverted = metres.length > 0 && output.centres.some(({ rmsAt2mDb }) => rmsAt2mDb !== null);
  return { place: told.place ?? 'unknown', metres, isConverted };
}

interface OutputAssumption {
  place: Place;
  measuredAtM: number[];
}

/** The level that is shown of a centre or an average: at 1 m where it was brought there, else at the microphone. */
export function shownPeak(one: Centre | Average, { isConverted }: OutputShape): number | null {
  const { levelAtMicrophoneDb, peakAt1mDb } = one as { levelAtMicrophoneDb?: number | null; peakAt1mDb: number | null };
  return isConverted ? peakAt1mDb : (levelAtMicrophoneDb ?? peakAt1mDb);
}
