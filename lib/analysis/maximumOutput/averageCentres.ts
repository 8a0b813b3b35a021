import type { MaximumOutput } from '../../model/findings';
import { nearestCentre, nominalHz } from '../../model/octaves';

/** Nominal third-octave centres, Hz (published descriptions of CTA-2010, from memory). */
const BANDS = [
  { name: 'low bass', nominal: [20, 25, 31.5] },
  { name: 'upper bass', nominal: [40, 50, 63] },
];

/**
 * Mean levels over the low-bass and the upper-bass centres: of pressures, in pascals, not of dB.
 *
 * @param centres with their peak levels at 1 m, dB. @param rmsDb what leads to the rms level at 2 m, dB.
 * @returns one mean a band; null where a centre of it is missing or none of its bursts passed.
 *
 * @example
 * // peaks of 101.1, 107.3 and 116.3 dB average to 110.4
 */
export function averageCentres(
  centres: Pick<MaximumOutput['centres'][number], 'centreHz' | 'peakAt1mDb'>[],
  rmsDb: number,
): MaximumOutput['averages'] {
  return BANDS.map(({ name, nominal }) => {
    const levels = nominal.map((hz) => centres.find(({ centreHz }) => nominalHz(centreHz) === hz)?.peakAt1mDb ?? null);
    const known = levels.filter((level) => level !== null);
    const pressure = known.reduce((sum, level) => sum + 10 ** (level / 20), 0) / nominal.length;
    const peakAt1mDb = known.length === nominal.length ? 20 * Math.log10(pressure) : null;
    return {
      name,
      centresHz: nominal.map(nearestCentre),
      peakAt1mDb,
      atLeast: false,
      rmsAt2mDb: peakAt1mDb === null ? null : peakAt1mDb + rmsDb,
    };
  });
}
