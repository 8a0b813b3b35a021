import { levelOf, powerOf } from '../../model/decibel';
import type { MeanSpectrum } from './meanSpectrum';

/** A peak of a spectrum. */
export interface SpectralPeak {
  frequencyHz: number;
  /** Squared amplitude of the sine that gives it. */
  power: number;
}

/**
 * Largest local peak of a spectrum in a range, its top by a parabola through the levels around it.
 *
 * @returns undefined where the range holds none: what merely slopes into it from outside is no peak.
 *
 * Notes: with bins a quarter of the resolution apart, level and frequency of a pure tone come out within 0.01 dB and
 * 0.01 / duration Hz.
 *
 * Reference: F. J. Harris, Proc. IEEE 66 (1978) 51-83 (shape of the window's main lobe).
 *
 * @example
 * peakBetween(meanSpectrum(samples, 3000), 45, 55) // { frequencyHz: 50.02, power: 1e-6 }
 */
export function peakBetween(spectrum: MeanSpectrum, lowHz: number, highHz: number): SpectralPeak | undefined {
  const { power, binHz } = spectrum;
  let top = -1;
  const first = Math.max(1, Math.floor(lowHz / binHz));
  const last = Math.min(power.length - 2, Math.ceil(highHz / binHz));
  for (let i = first; i <= last; i++) {
    if (power[i] >= power[i - 1] && power[i] > power[i + 1] && (top < 0 || power[i] > power[top])) top = i;
  }
  if (top < 0) return undefined;
  const [before, at, after] = [power[top - 1], power[top], power[top + 1]].map((p) => levelOf(Math.max(p, 1e-300)));
  const shift = (before - after) / (2 * (before - 2 * at + after));
  const frequencyHz = (top + shift) * binHz;
  if (!(frequencyHz >= lowHz && frequencyHz <= highHz)) return undefined;
  return { frequencyHz, power: powerOf(at - 0.25 * (before - after) * shift) };
}
