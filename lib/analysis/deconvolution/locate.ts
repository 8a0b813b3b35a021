import { BassloomError } from '../../model/errors';
import { type BandEnergy, bandEnergy } from './bandEnergy';
import type { Band } from './grid';

/** Energy at the best place over the mean of all places that shows a stimulus; noise alone stays below 5. */
const LEAST_CONTRAST = 8;
/** Parts of a response that belong together arrive within that time, s. */
const TOGETHER_S = 0.35;
/** Time over which energy is gathered, s. */
const GATHER_S = 0.02;

/**
 * Find where a stimulus stands in a capture.
 *
 * @param bins transfer from stimulus to capture, up to the band's end. @param binHz spacing, Hz.
 * @param band what the stimulus fills. @param label of the capture.
 * @returns arrival in seconds after the stimulus would have arrived had both begun at once; negative where the recorder
 * began later. Good to some hundredths of a second.
 * @throws BassloomError `no-sweep-found`, `wrong-sweep`.
 *
 * Notes: every bin is weighed by what lies around it, so that neither hum nor a strong band decides alone. The stimulus
 * is there where the energy gathers in one place; it is the right one where all half octaves gather near it.
 */
export function locate(bins: Float64Array, binHz: number, band: Band, label: string): number {
  const flat = levelled(bins, Math.max(3, Math.round(2 / binHz)));
  const whole = bandEnergy(flat, binHz, band.from, band.to, Math.max(GATHER_S, 3 / (band.to - band.from)));
  const at = greatest(whole);
  const contrast = whole.energy[at] / mean(whole.energy);
  if (contrast < LEAST_CONTRAST) {
    throw new BassloomError(
      'no-sweep-found',
      `${label}: the stimulus is not in it. Check that this is the capture of that stimulus, that the right channel was taken, and that the microphone was on and loud enough.`,
      { field: 'capture' },
    );
  }
  refuseOther(flat, binHz, band, at * whole.stepS, label);
  const period = 1 / binHz;
  const seconds = at * whole.stepS;
  return seconds > 0.6 * period ? seconds - period : seconds;
}

/** A sweep of another rate gathers too, but each band at another place. */
function refuseOther(flat: Float64Array, binHz: number, band: Band, seconds: number, label: string): void {
  let [clear, apart] = [0, 0];
  for (let low = band.full; low * 1.4 < band.fullTo; low *= Math.SQRT2) {
    const width = low * (Math.SQRT2 - 1);
    const part = bandEnergy(flat, binHz, low, low * Math.SQRT2, Math.max(0.05, 2 / width));
    const at = greatest(part);
    if (part.energy[at] < LEAST_CONTRAST * mean(part.energy)) continue;
    clear++;
    const off = Math.abs(at * part.stepS - seconds) % (1 / binHz);
    if (Math.min(off, 1 / binHz - off) > TOGETHER_S + 2 / width) apart++;
  }
  if (clear === 0 || apart <= clear / 2) return;
  throw new BassloomError(
    'wrong-sweep',
    `${label}: it holds another stimulus than the one given, or one played at another speed. Give the file that was played.`,
    { field: 'stimulus' },
  );
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

function greatest({ energy }: BandEnergy): number {
  let best = 0;
  for (let n = 1; n < energy.length; n++) if (energy[n] > energy[best]) best = n;
  return best;
}

function mean(values: Float64Array): number {
  return values.reduce((sum, x) => sum + x, 0) / values.length;
}
