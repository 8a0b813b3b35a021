import { median } from '../../fitting/median';
import { upperMedian } from '../../fitting/upperMedian';
import type { Transfer } from '../divide/fundamental';
import { bandEnergy } from './bandEnergy';
import type { Law } from './reference';

/** Bands are an octave wide and begin here, half an octave apart; below, units and rooms delay sound by themselves, Hz. */
const FROM_HZ = 40;
/** The onset is looked for so long before and after the arrival, s. */
const AROUND_S = 0.3;
/** A band has begun where its energy passes that share of its largest. */
const BEGUN = 0.1;
/**
 * And stands so far above the median of all times, as power: noise at its median passes the share above by chance once in
 * some hundred places, which is as many as are looked at.
 */
const STANDS = 100;
const FEWEST_BANDS = 4;
/**
 * What slope of the onsets is another sweep, s per e-fold: with four bands and with more, rising and falling. Crossovers
 * and rooms let low bands begin later, but not earlier. Tuned on 240 captures of drawn rigs, most of which stay below 24
 * and 18 ms rising, 42 and 32 ms falling.
 */
const LEAST_S = { fewest: { rising: 0.04, falling: 0.06 }, more: { rising: 0.022, falling: 0.04 } };
/** Half of the bands lie within that share of the slope around its line. */
const SCATTER = 0.6;

interface Onset {
  s: number;
  ln: number;
}

/** How the beginnings of bands lie over frequency. */
export interface OnsetLine {
  /** How much later a band begins than one at a frequency e times lower, s. */
  slopeS: number;
  /** Median distance of the bands from the line, s. */
  scatterS: number;
  bands: number;
}

/**
 * Lay a line through the beginnings of a transfer's bands.
 *
 * @returns undefined where too few bands stand out of the noise.
 *
 * Notes: where bands begin shows the speed of a sweep finer than where they are strongest, which is what rooms decide. The
 * line goes through all pairs (Theil and Sen).
 */
export function onsetLine(transfer: Transfer): OnsetLine | undefined {
  const onsets = onsetsOf(transfer);
  if (onsets.length < FEWEST_BANDS) return undefined;
  const slopeS = median(onsets.flatMap((a, i) => onsets.slice(i + 2).map((b) => (b.s - a.s) / (b.ln - a.ln))));
  const rests = onsets.map(({ s, ln }) => s - slopeS * ln);
  const centre = median(rests);
  return { slopeS, scatterS: median(rests.map((rest) => Math.abs(rest - centre))), bands: onsets.length };
}

/**
 * How much faster or slower the sweep in a capture ran than the one it was divided by, from when its bands begin.
 *
 * @param onsets of the transfer from stimulus to capture. @param law of the sweep it was divided by.
 * @returns percent, positive where it ran faster; undefined where it is the same as far as can be told.
 *
 * Notes: a sweep of another speed arrives at L' ln f - L ln f.
 *
 * @example
 * otherSpeed(onsetLine(transfer), law) // -8.1 where a 48 kHz recording is headed 44.1 kHz
 */
export function otherSpeed(onsets: OnsetLine | undefined, { rateSeconds }: Law): number | undefined {
  if (!onsets) return undefined;
  const { slopeS, scatterS, bands } = onsets;
  const least = bands > FEWEST_BANDS ? LEAST_S.more : LEAST_S.fewest;
  if (Math.abs(slopeS) < (slopeS > 0 ? least.rising : least.falling) || scatterS > SCATTER * Math.abs(slopeS))
    return undefined;
  return 100 * (rateSeconds / (rateSeconds + slopeS) - 1);
}

function onsetsOf({ bins, binHz, band, arrivalS }: Transfer): Onset[] {
  const onsets: Onset[] = [];
  for (let low = Math.max(FROM_HZ, band.full); low * 1.9 < band.fullTo; low *= Math.SQRT2) {
    const widthHz = Math.min(2 * low, band.fullTo) - low;
    const { energy, stepS } = bandEnergy(bins, binHz, low, low + widthHz, 0.5 / widthHz);
    const at = (s: number) => {
      const n = Math.round((arrivalS + s) / stepS) % energy.length;
      return energy[n < 0 ? n + energy.length : n];
    };
    let top = 0;
    for (let s = -AROUND_S; s < AROUND_S; s += stepS) top = Math.max(top, at(s));
    if (top < STANDS * upperMedian(energy.slice())) continue;
    let s = -AROUND_S;
    while (s < AROUND_S && at(s) < BEGUN * top) s += stepS;
    // a band's own filter begins the earlier the narrower it is
    onsets.push({ s: s + 0.75 / widthHz, ln: Math.log(low) });
  }
  return onsets;
}
