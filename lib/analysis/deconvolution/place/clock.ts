import { type Law, sweepTime } from './reference';

/**
 * Take a clock's difference out of a transfer: it made every frequency late by its time in the sweep.
 *
 * @param bins complex, real and imaginary parts in turn. @param binHz spacing, Hz.
 * @returns new bins.
 */
export function turnClock(bins: Float64Array, binHz: number, law: Law, ppm: number): Float64Array {
  const out = new Float64Array(bins.length);
  for (let k = 1; k < bins.length / 2; k++) {
    const hz = k * binHz;
    const angle = 2 * Math.PI * hz * ppm * 1e-6 * sweepTime(law, hz);
    const [cos, sin] = [Math.cos(angle), Math.sin(angle)];
    out[2 * k] = bins[2 * k] * cos - bins[2 * k + 1] * sin;
    out[2 * k + 1] = bins[2 * k] * sin + bins[2 * k + 1] * cos;
  }
  return out;
}
