import type { MaximumOutput } from '../../model/findings';
import { nominalHz } from '../../model/octaves';
import { isAtLeast, outputPlace, peakIn } from './outputPlace';
import { toHundredth } from './rounded';

/** Peak levels of bursts as they may be told. */
export interface OutputLevels {
  levels: { hz: number; levelDb: number; atLeast: boolean; trusted: boolean }[];
  /** Distance that levels were brought from, m; null where it is not one, or where they are levels at the microphone. */
  fromM: number | null;
  /** Distance that they were brought to, m; null where they are levels at the microphone. */
  toM: number | null;
}

/** Levels of the centres that passed, where they hold. */
export function outputLevels(output: MaximumOutput): OutputLevels {
  const place = outputPlace(output);
  const levels = output.centres.flatMap((centre) => {
    const levelDb = peakIn(centre, place);
    if (levelDb === null) return [];
    return [{ hz: nominalHz(centre.centreHz), levelDb, atLeast: isAtLeast(centre), trusted: centre.trusted }];
  });
  const [fromM, ...others] = place.metres;
  const isOne = place.isConverted && others.length === 0;
  return { levels, fromM: isOne ? toHundredth(fromM) : null, toM: place.isConverted ? 1 : null };
}
