import { makeRefusal } from '../../../words/makeRefusal';
import type { Band } from '../grid';
import { type BandEnergy, bandEnergy } from './bandEnergy';
import { gather, greatest, mean } from './gather';
import { type BandArrival, otherRate } from './otherRate';
import type { Law } from './reference';

/** Energy at the best place over the mean of all places that shows a stimulus; noise alone stays below 5. */
const LEAST_CONTRAST = 8;
/** Parts of a response that belong together arrive within that time, s. */
const TOGETHER_S = 0.35;
/** Harmonics up to that order are told from the sweep itself. */
const HIGHEST_ORDER = 9;
/** So many half octaves gather where the sweep is, however many of its harmonics are stronger. */
const FEWEST_OWN = 2;
/** Two sweeps of one recording begin at least that many of their durations apart. */
const APART = 0.98;
/** A second arrival holds at least that share of the energy of the first: 13 dB less. */
const LEAST_OF_STRONGEST = 0.05;
/** Room for the difference between the delays of a unit's fundamental and its harmonics, s. */
const NEAR_S = 0.1;

/**
 * Find where a stimulus stands in a capture.
 *
 * @param bins transfer from stimulus to capture, up to the band's end. @param binHz spacing, Hz.
 * @param band what the stimulus fills. @param label of the capture.
 * @param isHeld whether the capture holds the stimulus at a frequency, were it to arrive at a time (Hz, s).
 * @param law of an exponential sweep: its harmonics gather too, earlier by L times the logarithm of their order.
 * @returns arrivals in seconds after the stimulus would have arrived had both begun at once; negative where the recorder
 * began later. Good to some hundredths of a second. The strongest, and the others where a sweep was recorded more than
 * once, in the order of time.
 * @throws BassloomError `no-sweep-found`, `wrong-sweep`.
 *
 * Notes: every bin is weighed by what lies around it, so that neither hum nor a strong band decides alone. The stimulus
 * is there where the energy gathers in one place; it is the right one where all half octaves gather near it. Above the
 * range of a unit, or after a capture broke off, harmonics may be all there is, and gather more than the sweep.
 */
export function locate(
  bins: Float64Array,
  binHz: number,
  band: Band,
  label: string,
  isHeld: (hz: number, arrivalS: number) => boolean,
  law?: Law,
): { arrivalS: number; othersS: number[] } {
  const rateSeconds = law?.rateSeconds;
  const { flat, whole, strongest, contrast } = gather(bins, binHz, band);
  // silence has no contrast at all
  if (!(contrast >= LEAST_CONTRAST)) {
    throw makeRefusal('no-sweep-found', { label }, { field: 'capture' });
  }
  const period = 1 / binHz;
  const clear = clearBands(flat, binHz, band);
  const own = rateSeconds ? ownSweep(whole, strongest, clear, period, rateSeconds) : strongest;
  const secondsAt = (n: number) => {
    const place = n * whole.stepS;
    const isWhole = isHeld(band.full, place) && isHeld(band.fullTo, place);
    return place > 0.6 * period && !isWhole ? place - period : place;
  };
  const seconds = secondsAt(own);
  const othersS = law ? othersIn(whole, own, period, law).map(secondsAt) : [];
  // harmonics that gather where they belong are of this sweep
  const places = [0, ...(rateSeconds ? orders(rateSeconds) : [])].map((lead) => seconds - lead);
  // a torn end clicks in the bands that it cut off
  const held = clear.filter(({ lowHz }) => isHeld(lowHz, seconds) && isHeld(lowHz * Math.SQRT2, seconds));
  refuseOther(held, period, [...places, ...othersS], label, rateSeconds, othersS);
  return { arrivalS: seconds, othersS: othersS.sort((a, b) => a - b) };
}

/** Where a half octave that stands out of its own noise gathers. */
interface ClearBand {
  lowHz: number;
  widthHz: number;
  atS: number;
}

function clearBands(flat: Float64Array, binHz: number, band: Band): ClearBand[] {
  const clear: ClearBand[] = [];
  for (let lowHz = band.full; lowHz * 1.4 < band.fullTo; lowHz *= Math.SQRT2) {
    const widthHz = lowHz * (Math.SQRT2 - 1);
    const part = bandEnergy(flat, binHz, lowHz, lowHz * Math.SQRT2, Math.max(0.05, 2 / widthHz));
    const at = greatest(part);
    if (part.energy[at] >= LEAST_CONTRAST * mean(part.energy)) clear.push({ lowHz, widthHz, atS: at * part.stepS });
  }
  return clear;
}

/**
 * What is strongest may be a harmonic: then the sweep itself gathers at the time that one of the orders leaves for it, and
 * some bands nowhere else. Noise or hum that stands out there by chance has no band of its own.
 */
function ownSweep(
  { energy, stepS }: BandEnergy,
  strongest: number,
  clear: readonly ClearBand[],
  period: number,
  rateSeconds: number,
): number {
  const least = LEAST_CONTRAST * mean(energy);
  const reach = Math.round(NEAR_S / stepS);
  for (let order = HIGHEST_ORDER; order >= 2; order--) {
    const later = rateSeconds * Math.log(order);
    // no time is left between this harmonic and the others, or it lies round the whole period
    if (later > 0.9 * period || rateSeconds * Math.log(order / (order - 1)) < 2 * NEAR_S) continue;
    const centre = strongest + Math.round(later / stepS);
    let top = centre;
    for (let n = centre - reach; n <= centre + reach; n++) if (at(energy, n) > at(energy, top)) top = n;
    if (!(at(energy, top) > least && isPeak(energy, top, 3 * reach))) continue;
    const nearer = clear.filter(
      ({ atS }) => apart(atS, top * stepS, period) < apart(atS, strongest * stepS, period),
    ).length;
    if (nearer >= FEWEST_OWN) return ((top % energy.length) + energy.length) % energy.length;
  }
  return strongest;
}

/** Where else the same sweep gathers, further away than it lasts: its harmonics and its ringing stay nearer. */
function othersIn({ energy, stepS }: BandEnergy, own: number, period: number, law: Law): number[] {
  const nearS = APART * law.rateSeconds * Math.log(law.endHz / law.startHz);
  const least = Math.max(LEAST_CONTRAST * mean(energy), LEAST_OF_STRONGEST * energy[own]);
  const taken = [own];
  const others: number[] = [];
  const isFree = (n: number) => taken.every((one) => apart(n * stepS, one * stepS, period) > nearS);
  for (;;) {
    let top = -1;
    for (let n = 0; n < energy.length; n++) {
      if (energy[n] > least && (top < 0 || energy[n] > energy[top]) && isFree(n)) top = n;
    }
    if (top < 0) return others;
    taken.push(top);
    others.push(top);
  }
}

function at(energy: Float64Array, n: number): number {
  return energy[((n % energy.length) + energy.length) % energy.length];
}

/** Whether nothing near is larger: not the foot of another peak. */
function isPeak(energy: Float64Array, top: number, reach: number): boolean {
  for (let n = top - reach; n <= top + reach; n++) if (at(energy, n) > at(energy, top)) return false;
  return true;
}

/** Seconds between two places of a response that goes round. */
function apart(aS: number, bS: number, period: number): number {
  const off = Math.abs(aS - bS) % period;
  return Math.min(off, period - off);
}

/** A sweep of another rate gathers too, but each band at another place. */
function refuseOther(
  clear: readonly ClearBand[],
  period: number,
  places: number[],
  label: string,
  rateSeconds: number | undefined,
  othersS: number[],
): void {
  let elsewhere = 0;
  const arrivals: BandArrival[] = [];
  for (const { lowHz, widthHz, atS } of clear) {
    const [lateS] = [places[0], ...othersS]
      .map((place) => atS - place)
      .map((late) => late - period * Math.round(late / period))
      .sort((a, b) => Math.abs(a) - Math.abs(b));
    arrivals.push({ hz: lowHz * 2 ** 0.25, lateS, widthHz });
    if (Math.min(...places.map((place) => apart(atS, place, period))) > TOGETHER_S + 2 / widthHz) elsewhere++;
  }
  const isElsewhere = clear.length > 0 && elsewhere > clear.length / 2;
  if (!isElsewhere && !(rateSeconds && otherRate(arrivals, rateSeconds))) return;
  throw makeRefusal('wrong-sweep', { label }, { field: 'stimulus' });
}

/** By how much the first few harmonics come earlier, s. */
function orders(rateSeconds: number): number[] {
  return [2, 3].map((order) => rateSeconds * Math.log(order));
}
