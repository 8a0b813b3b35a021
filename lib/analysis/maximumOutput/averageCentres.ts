import type { MaximumOutput } from '../../model/findings';
import { nearestCentre, nominalHz } from '../../model/octaves';

/** Nominal third-octave centres, Hz (published descriptions of CTA-2010, from memory). */
const BANDS = [
  { name: 'low bass', nominal: [20, 25, 31.5] },
  { name: 'upper bass', nominal: [40, 50, 63] },
];

type Centre = MaximumOutput['centres'][number];
type Averaged = Pick<Centre, 'centreHz' | 'levelAtMicrophoneDb' | 'peakAt1mDb' | 'stoppedBy'>;

/**
 * Mean levels over the low-bass and the upper-bass centres: of pressures, in pascals, not of dB.
 *
 * @param centres with their peak levels, dB. @param rmsDb what leads from the peak at 1 m to the rms level at 2 m, dB.
 * @returns one mean a band; null where a centre of it is missing or none of its bursts passed; 'at least' where one of
 * its centres could have gone higher, for all that was measured.
 *
 * @example
 * // peaks of 101.1, 107.3 and 116.3 dB average to 110.4
 */
export function averageCentres(centres: Averaged[], rmsDb: number): MaximumOutput['averages'] {
  return BANDS.map(({ name, nominal }) => {
    const own = nominal.flatMap((hz) => centres.find(({ centreHz }) => nominalHz(centreHz) === hz) ?? []);
    const mean = (of: (centre: Averaged) => number | null): number | null => {
      const known = own.map(of).filter((level) => level !== null);
      const pressure = known.reduce((sum, level) => sum + 10 ** (level / 20), 0) / nominal.length;
      return known.length === nominal.length ? 20 * Math.log10(pressure) : null;
    };
    const peakAt1mDb = mean((centre) => centre.peakAt1mDb);
    return {
      name,
      centresHz: nominal.map(nearestCentre),
      levelAtMicrophoneDb: mean((centre) => centre.levelAtMicrophoneDb),
      peakAt1mDb,
      rmsAt2mDb: peakAt1mDb === null ? null : peakAt1mDb + rmsDb,
      atLeast: own.some(({ stoppedBy }) => stoppedBy !== 'distortion' && stoppedBy !== 'compression'),
    };
  });
}
