import { centredMeans } from './centredMeans';
import { unwrap, wrap } from './unwrap';

/**
 * Smooth a phase column over 1/`fraction` octave.
 *
 * @param frequencyHz strictly rising, Hz. @param phaseDeg degrees, one for each.
 * @returns degrees, -180 .. 180.
 *
 * The unwrapped phase is averaged over the window that levels are averaged over. That window reaches further up than
 * down in Hz, so the mean of a falling phase would lag; the straight line through it (the delay) is therefore taken
 * off before and put back after, and a pure delay comes back unchanged. Means nothing where the phase turns by more
 * than 180 degrees between points.
 *
 * @example
 * smoothPhase([10, 20, 40], [-36, -72, -144], 3) // the same: 10 ms of delay
 */
export function smoothPhase(frequencyHz: ArrayLike<number>, phaseDeg: ArrayLike<number>, fraction: number): number[] {
  const phase = unwrap(phaseDeg);
  const slope = slopeOf(frequencyHz, phase);
  const rest = phase.map((degrees, i) => degrees - slope * frequencyHz[i]);
  return Array.from(centredMeans(frequencyHz, rest, fraction), (mean, i) => wrap(mean + slope * frequencyHz[i]));
}

/** Slope of the least-squares line, degrees per Hz; 0 of a single point. */
function slopeOf(frequencyHz: ArrayLike<number>, phase: number[]): number {
  const count = phase.length;
  let meanHz = 0;
  let meanDeg = 0;
  for (let i = 0; i < count; i++) {
    meanHz += frequencyHz[i] / count;
    meanDeg += phase[i] / count;
  }
  let along = 0;
  let square = 0;
  for (let i = 0; i < count; i++) {
    along += (frequencyHz[i] - meanHz) * (phase[i] - meanDeg);
    square += (frequencyHz[i] - meanHz) ** 2;
  }
  return square > 0 ? along / square : 0;
}
