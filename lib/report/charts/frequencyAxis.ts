import type { Interval } from '../../model/curve';
import { textWidth } from './layout';

/** The ticks a person in this trade reads on a low-frequency axis, Hz. */
export const TICKS_HZ = [5, 10, 16, 20, 31.5, 40, 63, 80, 100, 160, 200];

/** Which ticks to keep first where there is no room for all. */
const PRIORITY = [20, 40, 80, 10, 160, 5, 63, 31.5, 200, 100, 16];

/**
 * Ticks inside a range that can be labelled without touching.
 *
 * @param x where a frequency lies, px.
 */
export function frequencyTicks(rangeHz: Interval, x: (hz: number) => number, fontSize: number): number[] {
  const inside = (hz: number): boolean => hz >= rangeHz[0] * 0.999 && hz <= rangeHz[1] * 1.001;
  const kept: number[] = [];
  for (const hz of PRIORITY) {
    if (!inside(hz)) continue;
    const half = textWidth(String(hz), fontSize) / 2 + 2;
    const free = kept.every((other) => Math.abs(x(hz) - x(other)) >= half + textWidth(String(other), fontSize) / 2 + 2);
    if (free) kept.push(hz);
  }
  if (kept.length > 0) return kept.sort((a, b) => a - b);
  return rangeHz.map((hz) => Number(hz.toPrecision(2)));
}

/** Where a frequency lies on a logarithmic axis between two pixels. */
export function logScale([lowHz, highHz]: Interval, left: number, right: number): (hz: number) => number {
  const perOctave = (right - left) / Math.log2(highHz / lowHz);
  return (hz) => left + perOctave * Math.log2(hz / lowHz);
}
