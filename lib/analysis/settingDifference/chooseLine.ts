import type { DifferenceLine } from './differenceLine';
import type { DifferenceSamples } from './differenceSamples';
import { fitShape } from './fitShape';
import { localLine } from './localLine';

/** Where what is done to the upper end may begin, Hz: tried from the widest range down. */
const TOPS_HZ = [Number.POSITIVE_INFINITY, 200, 120, 80, 60];
/** A shape fits where no half octave is off by more than this beyond chance, dB, or by more than this share of all it does. */
const FITS_DB = 0.15;
const FITS_SHARE = 0.02;

/** On a narrow range a larger offset may be the foot of what is done to the upper end, dB. */
const SMALL_OFFSET_DB = 0.5;

/**
 * The widest range, from the bottom up, in which one shape fits; local lines over all where none does. Of narrower
 * ranges those come first that leave the top where it was.
 */
export function chooseLine(samples: DifferenceSamples): { line: DifferenceLine; topHz: number } {
  const highest = samples.hz[samples.hz.length - 1];
  let offset: { line: DifferenceLine; topHz: number } | undefined;
  for (const top of TOPS_HZ) {
    if (Number.isFinite(top) && top >= highest) continue;
    const line = fitShape(upTo(samples, top));
    if (!line || line.restDb > Math.max(FITS_DB, FITS_SHARE * Math.abs(line.db(samples.hz[0])))) continue;
    const found = { line, topHz: Math.min(top, highest) };
    if (found.topHz === highest || Math.abs(line.offsetDb) < SMALL_OFFSET_DB) return found;
    offset ??= found;
  }
  return offset ?? { line: localLine(samples), topHz: highest };
}

function upTo({ hz, differenceDb, scatterDb, sigma }: DifferenceSamples, topHz: number): DifferenceSamples {
  const count = hz.filter((f) => f <= topHz).length;
  return {
    hz: hz.slice(0, count),
    differenceDb: differenceDb.slice(0, count),
    scatterDb: scatterDb.slice(0, count),
    sigma: sigma.slice(0, count),
  };
}
