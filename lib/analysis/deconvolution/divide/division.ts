import type { Band, Grid } from '../grid';
import { bandGain } from '../grid';
import type { Law, Reference } from '../place/reference';

/** A sweep counts where its spectrum is no more than so far below that of the endless sweep. */
const LEAST_SHARE = 10 ** -2.1;
/** Other stimuli: where the smoothed spectrum is no more than so far below its highest. */
const LEAST_OF_HIGHEST = 10 ** -3;
/** Share of the local power added before dividing by a stimulus that is no sweep: bias below 0.03 dB. */
const REGULAR = 3e-4;

/** What a capture's spectrum is multiplied by, bin by bin, to give the transfer from the stimulus. */
export interface Divisor {
  band: Band;
  /** Complex, up to the band's end. */
  gain: Float64Array;
}

/**
 * Work out the division by a stimulus: 1 / X inside the band that it fills, faded to nothing outside.
 *
 * @param reference the stimulus. @param topHz highest frequency wanted, Hz.
 *
 * Notes: below the start of a sweep the stimulus fades fast and division would only raise noise; the fade takes the
 * last stretch in which there still is some of it, so that the start itself is whole.
 */
export function divisorFor(reference: Reference, topHz: number): Divisor {
  const { spectrum, grid, law } = reference;
  const power = powersUpTo(spectrum, Math.min(spectrum.length / 2, Math.ceil((topHz * 1.1) / grid.binHz) + 2));
  const smooth = law ? undefined : smoothed(power);
  const band = law ? sweepBand(power, grid, law, topHz) : filledBand(smooth!, grid, topHz);
  const last = Math.min(power.length - 1, Math.ceil(band.to / grid.binHz));
  const gain = new Float64Array(2 * (last + 1));
  for (let k = Math.max(1, Math.floor(band.from / grid.binHz)); k <= last; k++) {
    const edge = bandGain(band, k * grid.binHz);
    if (edge === 0) continue;
    const scale = edge / (power[k] + (smooth ? REGULAR * smooth[k] : 0));
    gain[2 * k] = scale * spectrum[2 * k];
    gain[2 * k + 1] = -scale * spectrum[2 * k + 1];
  }
  return { band, gain };
}

function powersUpTo(spectrum: Float64Array, bins: number): Float64Array {
  const power = new Float64Array(bins);
  for (let k = 0; k < bins; k++) power[k] = spectrum[2 * k] ** 2 + spectrum[2 * k + 1] ** 2;
  return power;
}

function sweepBand(power: Float64Array, { rateHz, binHz }: Grid, law: Law, topHz: number): Band {
  const { startHz, endHz, rateSeconds, amplitude } = law;
  // the endless sweep has a^2 L fs^2 / (4 f), see sweepInverse
  const endless = (amplitude * rateHz) ** 2 * rateSeconds * 0.25;
  const isFilled = (hz: number) => {
    const k = Math.round(hz / binHz);
    return k >= 1 && k < power.length && power[k] * k * binHz > LEAST_SHARE * endless;
  };
  let from = startHz * 1.3;
  while (from > startHz * 0.72 && isFilled(from)) from -= binHz;
  if (from === startHz * 1.3) while (from < startHz * 4 && !isFilled(from)) from += binHz;
  const top = Math.min(endHz * 1.08, topHz * 1.06);
  let to = Math.min(endHz / 1.3, top);
  while (to < top && isFilled(to)) to += binHz;
  return edges(from, Math.min(to, top), startHz * 0.97);
}

function edges(from: number, to: number, full = from * 1.12): Band {
  return { from, full: Math.max(full, from * 1.12), fullTo: to * 0.985, to };
}

function filledBand(smooth: Float64Array, { binHz }: Grid, topHz: number): Band {
  const top = Math.min(smooth.length - 1, Math.floor((topHz * 1.05) / binHz));
  let highest = 0;
  for (let k = 1; k <= top; k++) highest = Math.max(highest, smooth[k]);
  let low = 1;
  while (low < top && smooth[low] < LEAST_OF_HIGHEST * highest) low++;
  let high = top;
  while (high > low + 1 && smooth[high] < LEAST_OF_HIGHEST * highest) high--;
  return edges(Math.max(low * binHz, 1), high * binHz);
}

/** Means over a sixth of an octave, at least nine bins. */
function smoothed(power: Float64Array): Float64Array {
  const sums = new Float64Array(power.length + 1);
  for (let k = 0; k < power.length; k++) sums[k + 1] = sums[k] + power[k];
  return power.map((_, k) => {
    const half = Math.max(4, Math.round(k * 0.058));
    const [a, b] = [Math.max(0, k - half), Math.min(power.length, k + half + 1)];
    return (sums[b] - sums[a]) / (b - a);
  });
}
