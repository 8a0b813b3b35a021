import type { Band } from '../grid';
import { type BandEnergy, bandEnergy } from './bandEnergy';

/** Time over which energy is gathered, s, and at least so many periods of the band's width. */
export interface Span {
  s: number;
  periods: number;
}
const SPAN: Span = { s: 0.02, periods: 3 };
/** Every bin is weighed by those so far around it, Hz. */
const AROUND_HZ = 2;

/** How the energy of a whole band lies over time, every frequency having one voice. */
export interface Gathered {
  /** The bins it was made of: each over the root mean square of those around it. */
  flat: Float64Array;
  whole: BandEnergy;
  /** Where most of it is. */
  strongest: number;
  /** Energy there over the mean of all places. */
  contrast: number;
  /** Over which time, s. */
  gatherS: number;
}

/**
 * Gather the energy of a transfer function in time: neither hum nor a strong band decides alone.
 *
 * @param bins transfer from stimulus to capture. @param binHz spacing, Hz. @param band what the stimulus fills.
 * @param span time that energy is gathered over.
 */
export function gather(
  bins: Float64Array,
  binHz: number,
  { from, to }: Pick<Band, 'from' | 'to'>,
  span = SPAN,
): Gathered {
  const flat = levelled(bins, Math.max(3, Math.round(AROUND_HZ / binHz)));
  const gatherS = Math.max(span.s, span.periods / (to - from));
  const whole = bandEnergy(flat, binHz, from, to, gatherS);
  const strongest = greatest(whole);
  return { flat, whole, strongest, contrast: whole.energy[strongest] / mean(whole.energy), gatherS };
}

/** Every bin over the root mean square of those around it. */
function levelled(bins: Float64Array, half: number): Float64Array {
  const count = bins.length / 2;
  const sums = new Float64Array(count + 1);
  for (let k = 0; k < count; k++) sums[k + 1] = sums[k] + bins[2 * k] ** 2 + bins[2 * k + 1] ** 2;
  const out = new Float64Array(bins.length);
  for (let k = 0; k < count; k++) {
    const [a, b] = [Math.max(0, k - half), Math.min(count, k + half + 1)];
    const power = (sums[b] - sums[a]) / (b - a);
    if (!(power > 0)) continue;
    const scale = 1 / Math.sqrt(power);
    out[2 * k] = scale * bins[2 * k];
    out[2 * k + 1] = scale * bins[2 * k + 1];
  }
  return out;
}

export function greatest({ energy }: BandEnergy): number {
  let best = 0;
  for (let n = 1; n < energy.length; n++) if (energy[n] > energy[best]) best = n;
  return best;
}

export function mean(values: Float64Array): number {
  let sum = 0;
  for (let n = 0; n < values.length; n++) sum += values[n];
  return sum / values.length;
}
