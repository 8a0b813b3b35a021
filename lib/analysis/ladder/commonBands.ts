import type { Interval } from '../../model/curve';
import { BassloomError } from '../../model/errors';
import { thirdOctaveCentres } from '../../model/octaves';
import type { Rung } from './cells';

/**
 * List the third octaves that lie wholly in the range that all rungs have in common.
 *
 * @returns exact base-10 centres, Hz (IEC 61260-1:2014).
 * @throws BassloomError `no-whole-band`.
 */
export function commonBands(rungs: Rung[]): number[] {
  const ranges = rungs.flatMap(({ curves }) =>
    curves.map(({ frequencyHz }): Interval => [frequencyHz[0], frequencyHz[frequencyHz.length - 1]]),
  );
  const lowHz = Math.max(...ranges.map(([low]) => low));
  const highHz = Math.min(...ranges.map(([, high]) => high));
  const bandsHz = thirdOctaveCentres(lowHz, highHz);
  if (bandsHz.length === 0) {
    throw new BassloomError(
      'no-whole-band',
      `No third-octave band lies wholly in the range that all runs have in common (${lowHz} to ${highHz} Hz).`,
      { field: 'frequencyHz' },
    );
  }
  return bandsHz;
}
