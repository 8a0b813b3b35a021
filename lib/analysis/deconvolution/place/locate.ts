import { BassloomError } from '../../../model/errors';
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
    throw new BassloomError(
      'no-sweep-found',
      `${label}: the stimulus is not in it. Check that this is the capture of that stimulus, that the right channel was taken, and that the microphone was on and loud enough.`,
      { field: 'capture' },
    );
  }
  const period = 1 / binHz;
  const own = rateSeconds ? ownSweep(whole, strongest, period, rateSeconds) : strongest;
  const secondsAt = (n: number) => {
    const place = n * whole.stepS;
    const isWhole = isHeld(band.full, place) && isHeld(band.fullTo, place);
    return place > 0.6 * period && !isWhole ? place - period : place;
  };
  const seconds = secondsAt(own);
  const othersS = law ? othersIn(whole, own, period, law).map(secondsAt) : [];
  // harmonics that gather where they belong are of this sweep
  const places = [0, ...(rateSeconds ? orders(rateSeconds) : [])].map((lead) => seconds - lead);
  refuseOther(flat, binHz, band, [...places, ...othersS], label, (hz) => isHeld(hz, seconds), rateSeconds, othersS);
  return { arrivalS: seconds, othersS: othersS.sort((a, b) => a - b) };
}

/** What is strongest may be a harmonic: then the sweep itself gathers at the time that one of the orders leaves for it. */
function ownSweep({ energy, stepS }: BandEnergy, strongest: number, period: number, rateSeconds: number): number {
  const least = LEAST_CONTRAST * mean(energy);
  const reach = Math.round(NEAR_S / stepS);
  let best = strongest;
  for (let order = HIGHEST_ORDER; order >= 2; order--) {
    const later = rateSeconds * Math.log(order);
    // no time is left between this harmonic and the others, or it lies round the whole period
    if (later > 0.9 * period || rateSeconds * Math.log(order / (order - 1)) < 2 * NEAR_S) continue;
    const centre = strongest + Math.round(later / stepS);
    let top = centre;
    for (let n = centre - reach; n <= centre + reach; n++) if (at(energy, n) > at(energy, top)) top = n;
    if (at(energy, top) > least && isPeak(energy, top, 3 * reach)) {
      best = ((top % energy.length) + energy.length) % energy.length;
      break;
    }
  }
  return best;
}

/** Where else the same sweep gathers, further away than it lasts: its harmonics and its ringing stay nearer. */
function othersIn({ energy, stepS }: BandEnergy, own: number, period: number, law: Law): number[] {
  const nearS = APART * law.rateSeconds * Math.log(law.endHz / law.startHz);
  const least = Math.max(LEAST_CONTRAST * mean(energy), LEAST_OF_STRONGEST * energy[own]);
  const taken = [own];
  const others: number[] = [];
  const isFree = (n: number) =>
    taken.every((one) => {
      const apartS = Math.abs(n - one) * stepS;
      return Math.min(apartS, period - apartS) > nearS;
    });
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

/** A sweep of another rate gathers too, but each band at another place. */
function refuseOther(
  flat: Float64Array,
  binHz: number,
  band: Band,
  places: number[],
  label: string,
  isHeld: (hz: number) => boolean,
  rateSeconds: number | undefined,
  othersS: number[],
): void {
  let [clear, apart] = [0, 0];
  const arrivals: BandArrival[] = [];
  for (let low = band.full; low * 1.4 < band.fullTo; low *= Math.SQRT2) {
    // a torn end clicks in the bands that it cut off
    if (!isHeld(low) || !isHeld(low * Math.SQRT2)) continue;
    const width = low * (Math.SQRT2 - 1);
    const part = bandEnergy(flat, binHz, low, low * Math.SQRT2, Math.max(0.05, 2 / width));
    const at = greatest(part);
    if (part.energy[at] < LEAST_CONTRAST * mean(part.energy)) continue;
    clear++;
    const period = 1 / binHz;
    const [lateS] = [places[0], ...othersS]
      .map((place) => at * part.stepS - place)
      .map((late) => late - period * Math.round(late / period))
      .sort((a, b) => Math.abs(a) - Math.abs(b));
    arrivals.push({ hz: low * 2 ** 0.25, lateS, widthHz: width });
    const off = places.map((place) => {
      const apartS = Math.abs(at * part.stepS - place) % (1 / binHz);
      return Math.min(apartS, 1 / binHz - apartS);
    });
    if (Math.min(...off) > TOGETHER_S + 2 / width) apart++;
  }
  const isElsewhere = clear > 0 && apart > clear / 2;
  if (!isElsewhere && !(rateSeconds && otherRate(arrivals, rateSeconds))) return;
  throw new BassloomError(
    'wrong-sweep',
    `${label}: it holds another stimulus than the one given, or one played at another speed. Give the file that was played.`,
    { field: 'stimulus' },
  );
}

/** By how much the first few harmonics come earlier, s. */
function orders(rateSeconds: number): number[] {
  return [2, 3].map((order) => rateSeconds * Math.log(order));
}
