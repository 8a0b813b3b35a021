import type { MeanSpectrum } from './meanSpectrum';

/**
 * Most power that lines elsewhere can leak into a frequency through the side lobes of the Hann window.
 *
 * @param spectrum any. @param hz the frequency; what lies inside its main lobe is itself.
 *
 * Notes: the side lobes of a line d / duration away stay below 1 / (pi d (d^2 - 1)) of its amplitude; of all lines, the
 * one that could leak most counts, and fourfold, since others may add.
 *
 * Reference: F. J. Harris, Proc. IEEE 66 (1978) 51-83 (the transform of the Hann window is a sum of three kernels).
 *
 * @example
 * leakage(spectrum, 50) // below 1e-9 of a line at 120 Hz, in a stretch of a second
 */
export function leakage({ power, binHz, stretchS }: MeanSpectrum, hz: number): number {
  let most = 0;
  for (let i = 1; i < power.length; i++) {
    const d = Math.abs(i * binHz - hz) * stretchS;
    if (d < 2) continue;
    const leaked = power[i] / (Math.PI * d * (d * d - 1)) ** 2;
    if (leaked > most) most = leaked;
  }
  return 4 * most;
}
