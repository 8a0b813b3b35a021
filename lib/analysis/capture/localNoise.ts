import { median } from '../fitting/median';
import type { MeanSpectrum } from './meanSpectrum';

/** Width of each of the two stretches beside a line, Hz; wide enough for a steady median of a second's spectrum. */
const WIDTH_HZ = 18;
/** Beside other lines of the mains nothing is learned of the noise. */
const MAINS_HZ = [50, 60];

/**
 * Mean power of the noise around a line: the geometric mean of what is found on both sides, which follows any steady
 * slope.
 *
 * @param spectrum of silence. @param hz frequency of the line.
 */
export function localNoise({ power, binHz, stretchS, stretches }: MeanSpectrum, hz: number): number {
  const lobe = 2.2 / stretchS;
  const side = (direction: 1 | -1): number | undefined => {
    const values: number[] = [];
    // half a lobe apart the bins are nearly independent; more of them would add nothing
    for (let away = lobe; away <= lobe + WIDTH_HZ; away += 0.25 / stretchS) {
      const at = hz + direction * away;
      const bin = Math.round(at / binHz);
      if (at > lobe && bin < power.length && !isLine(at, lobe)) values.push(power[bin]);
    }
    return values.length > 0 ? median(values) : undefined;
  };
  const sides = [side(-1), side(1)].filter((value) => value !== undefined && value >= 0) as number[];
  if (sides.length === 0) return 0;
  return Math.exp(sides.reduce((sum, value) => sum + Math.log(value), 0) / sides.length) / medianToMean(stretches);
}

function isLine(hz: number, lobe: number): boolean {
  for (const mains of MAINS_HZ) if (Math.abs(hz - mains * Math.max(1, Math.round(hz / mains))) < lobe) return true;
  return false;
}

/** Median of a mean of so many exponential powers, over their mean; stretches that overlap by half count for 0.8. */
function medianToMean(stretches: number): number {
  // Wilson and Hilferty's approximation; within 2 % of ln 2 for one
  return (1 - 1 / (9 * Math.max(1, 0.8 * stretches))) ** 3;
}
