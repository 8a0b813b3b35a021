import type { Curve, Interval } from '../../model/curve';
import { interpolate } from '../../model/interpolate';
import { bandAround } from '../../model/octaves';
import { stepsOf } from '../../model/step';
import { powerIntegral } from '../../response/powerIntegral';
import type { DrawnLine } from './drawnLine';

const POINTS_PER_OCTAVE = 48;

/**
 * Thin a curve out to what an eye can follow: power means over 1/`fraction` octave at 48 points an octave.
 * At its ends the averaged band shrinks to stay centred. A curve already smoothed as much is only read off.
 *
 * @param rangeHz what to draw. @param trusted tells where the curve can be trusted.
 */
export function drawCurve(
  curve: Curve,
  label: string,
  options: { rangeHz: Interval; fraction: number; trusted: (hz: number) => boolean },
): DrawnLine {
  const { rangeHz, fraction, trusted } = options;
  const last = curve.frequencyHz.length - 1;
  const [from, to] = [Math.max(rangeHz[0], curve.frequencyHz[0]), Math.min(rangeHz[1], curve.frequencyHz[last])];
  if (!(to > from)) return { label, points: [] };
  const count = Math.max(2, Math.ceil(Math.log2(to / from) * POINTS_PER_OCTAVE) + 1);
  const grid = Array.from({ length: count }, (_, k) =>
    k === count - 1 ? to : from * (to / from) ** (k / (count - 1)),
  );
  const values = isSmoothed(curve, fraction)
    ? interpolate(curve.frequencyHz, curve.levelDb, grid)
    : smoothedAt(curve, grid, fraction);
  return { label, points: grid.map((hz, k) => ({ hz, value: values[k], trusted: trusted(hz) })) };
}

function smoothedAt(curve: Curve, grid: number[], fraction: number): number[] {
  const integral = powerIntegral(curve.frequencyHz, curve.levelDb);
  const [first, end] = [curve.frequencyHz[0], curve.frequencyHz[curve.frequencyHz.length - 1]];
  return grid.map((hz) => {
    const half = Math.min(bandAround(hz, fraction)[1] / hz, hz / first, end / hz);
    return integral.meanDb(hz / half, hz * half);
  });
}

function isSmoothed(curve: Curve, fraction: number): boolean {
  return stepsOf(curve, 'smooth').some((step) => step.with.fraction <= fraction);
}
