import type { DifferenceLine } from './differenceLine';
import type { DifferenceSamples } from './differenceSamples';
import { fitShape } from './fitShape';
import { localLine } from './localLine';

/** Where what is done to the upper end may begin, Hz: tried from the widest range down. */
const TOPS_HZ = [Number.POSITIVE_INFINITY, 200, 120, 80, 60];
/** A shape fits where no half octave is off by more than this beyond chance, dB, or by more than this share of all it does. */
const FITS_DB = 0.15;
const FITS_SHARE = 0.02;

/** The widest range, from the bottom up, in which one shape fits; local lines over all where none does. */
export function chooseLine(samples: DifferenceSamples): { line: DifferenceLine; topHz: number } {
  const { hz, differenceDb, scatterDb, sigma } = samples;
  const highest = hz[hz.length - 1];
  let before = hz.length + 1;
  for (const top of TOPS_HZ) {
    const count = hz.filter((f) => f <= top).length;
    if (count === before) continue;
    before = count;
    const line = fitShape({
      hz: hz.slice(0, count),
      differenceDb: differenceDb.slice(0, count),
      scatterDb: scatterDb.slice(0, count),
      sigma: sigma.slice(0, count),
    });
    if (line && line.restDb <= Math.max(FITS_DB, FITS_SHARE * Math.abs(line.db(hz[0])))) {
      return { line, topHz: Math.min(top, highest) };
    }
  }
  return { line: localLine(samples), topHz: highest };
}
