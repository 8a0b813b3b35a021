import type { DifferenceLine } from './differenceLine';
import { type DifferenceSamples, samplesUpTo } from './differenceSamples';
import { fitShape } from './fitShape';
import { localLine } from './localLine';

/** Where what is done to the upper end may begin, Hz: tried from the widest range down. */
const TOPS_HZ = [200, 120, 80, 60];
/**
 * A shape fits where no half octave is off by more than this beyond chance, dB, or by more than this share of all it
 * does. Tuned on the drawn rigs of test/truth.
 */
const FITS_DB = 0.15;
const FITS_SHARE = 0.02;

/** On a narrow range a larger offset may be the foot of what is done to the upper end, dB. */
const SMALL_OFFSET_DB = 0.5;

export interface ChosenLine {
  line: DifferenceLine;
  /** Where the line ends: above, the settings differ by something else. */
  topHz: number;
}

/**
 * The shape that fits over the whole range; or, on the widest range from the bottom up in which one fits, what is done
 * to the low end; local lines over all where none does. Of narrower ranges those come first that leave the top where it
 * was.
 */
export function chooseLine(samples: DifferenceSamples): ChosenLine {
  const highest = samples.hz[samples.hz.length - 1];
  const whole = fitShape(samples, 'all');
  if (whole && fits(whole, samples)) return { line: whole, topHz: highest };
  let offset: ChosenLine | undefined;
  for (const topHz of TOPS_HZ) {
    if (topHz >= highest) continue;
    const line = fitShape(samplesUpTo(samples, topHz), 'low end');
    if (!line || !fits(line, samples) || !comesToRest(line, samples.hz[0], topHz)) continue;
    if (Math.abs(line.offsetDb) < SMALL_OFFSET_DB) return { line, topHz };
    offset ??= { line, topHz };
  }
  return offset ?? { line: localLine(samples), topHz: highest };
}

function fits(line: DifferenceLine, { hz }: DifferenceSamples): boolean {
  const ends = [line.db(hz[0]), line.db(hz[hz.length - 1])].map(Math.abs);
  // what falls without end must not excuse what is left elsewhere
  const size = line.kind === 'shelf' ? ends[0] : Math.min(6, Math.max(...ends));
  return line.restDb <= Math.max(FITS_DB, FITS_SHARE * size);
}

/** Half of a peak looks like a shelf, but for what it does at the top of the range. */
function comesToRest(line: DifferenceLine, lowHz: number, topHz: number): boolean {
  return Math.abs(line.db(topHz)) <= 0.25 * Math.abs(line.db(lowHz)) + FITS_DB;
}
