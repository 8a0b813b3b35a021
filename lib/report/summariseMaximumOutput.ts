import type { MaximumOutput } from '../model/findings';
import { nominalHz } from '../model/octaves';

/**
 * Say in at most 32 characters how loud it goes: the mean of a band where there is one, else the loudest centre.
 *
 * @example
 * summariseMaximumOutput(output) // '20-63 Hz: upper bass 110.4 dB'
 */
export function summariseMaximumOutput(found: MaximumOutput[]): string {
  if (found.length === 0) return 'nothing found';
  if (found.length > 1) return `${found.length} settings`;
  const [{ centres, averages }] = found;
  const known = centres.filter(({ peakAt1mDb }) => peakAt1mDb !== null);
  if (known.length === 0) return 'no burst passed';
  const range = `${nominalHz(centres[0].centreHz)}-${nominalHz(centres[centres.length - 1].centreHz)} Hz`;
  const mean = [...averages].reverse().find(({ peakAt1mDb }) => peakAt1mDb !== null);
  if (mean?.peakAt1mDb != null) return `${range}: ${mean.name} ${mean.peakAt1mDb.toFixed(1)} dB`;
  const loudest = known.reduce((a, b) => ((b.peakAt1mDb as number) > (a.peakAt1mDb as number) ? b : a));
  return `${loudest.peakAt1mDb?.toFixed(1)} dB at ${nominalHz(loudest.centreHz)} Hz`;
}
