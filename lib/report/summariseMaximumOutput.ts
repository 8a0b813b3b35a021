import { isAtLeast, outputPlace, peakIn } from '../analysis/conclusions/outputPlace';
import type { MaximumOutput } from '../model/findings';
import { nominalHz } from '../model/octaves';
import { ENGLISH as say } from '../words/format';
import { SUMMARY_LENGTH } from './summary';

/**
 * Say in at most 32 characters how loud it goes: the mean of a band where there is one, else the loudest centre; of
 * several settings that of the loudest.
 *
 * @example
 * summariseMaximumOutput(output) // '20-63 Hz: upper bass 110.4 dB'
 * summariseMaximumOutput([flat, lifted]) // '2 settings: upper bass 116.7 dB'
 */
export function summariseMaximumOutput(found: MaximumOutput[]): string {
  if (found.length === 0) return 'nothing found';
  const number = loudestMean(found) ?? loudestCentre(found);
  if (number === undefined) return found.length > 1 ? `${found.length} settings: none passed` : 'no burst passed';
  const whole = `${found.length > 1 ? say.count(found.length, 'setting') : rangeOf(found[0])}: ${number}`;
  return whole.length <= SUMMARY_LENGTH ? whole : number;
}

/** U+2265, where nothing of the unit stopped it. */
const AT_LEAST = '\u2265 ';

function rangeOf({ centres }: MaximumOutput): string {
  return `${nominalHz(centres[0].centreHz)}-${nominalHz(centres[centres.length - 1].centreHz)} Hz`;
}

/** Of the highest band that has a mean. */
function loudestMean(found: MaximumOutput[]): string | undefined {
  const known = found.flatMap((output) =>
    output.averages.flatMap((one) => {
      const peakDb = peakIn(one, outputPlace(output));
      return peakDb === null
        ? []
        : [{ name: one.name, topHz: Math.max(...one.centresHz), peakDb, atLeast: one.atLeast }];
    }),
  );
  if (known.length === 0) return undefined;
  const { name, peakDb, atLeast } = known.reduce((a, b) => ((b.topHz - a.topHz || b.peakDb - a.peakDb) > 0 ? b : a));
  return `${name} ${atLeast ? AT_LEAST : ''}${peakDb.toFixed(1)} dB`;
}

function loudestCentre(found: MaximumOutput[]): string | undefined {
  const known = found.flatMap((output) =>
    output.centres.flatMap((centre) => {
      const peakDb = peakIn(centre, outputPlace(output));
      return peakDb === null ? [] : [{ centreHz: centre.centreHz, peakDb, atLeast: isAtLeast(centre) }];
    }),
  );
  if (known.length === 0) return undefined;
  const { centreHz, peakDb, atLeast } = known.reduce((a, b) => (b.peakDb > a.peakDb ? b : a));
  return `${atLeast ? AT_LEAST : ''}${peakDb.toFixed(1)} dB at ${nominalHz(centreHz)} Hz`;
}
