import type { Interval } from '../../model/curve';
import { textWidth } from './layout';

/** The ticks a person in this trade reads on a low-frequency axis, Hz. */
export const TICKS_HZ = [5, 10, 16, 20, 31.5, 40, 63, 80, 100, 160, 200];

/** Which labels to keep first where there is no room for all, even in smaller letters. */
const PRIORITY = [20, 40, 80, 10, 160, 5, 63, 31.5, 200, 100, 16];

/** Sizes of lettering to be tried, of the chart's own; 8.5 px on a phone is the least that can be read. */
const SHRINK = [1, 0.92, 0.84, 0.75];

/** All ticks inside a range; its ends where there are none. */
export function ticksIn(rangeHz: Interval): number[] {
  const inside = TICKS_HZ.filter((hz) => hz >= rangeHz[0] * 0.999 && hz <= rangeHz[1] * 1.001);
  return inside.length > 0 ? inside : rangeHz.map((hz) => Number(hz.toPrecision(2)));
}

/**
 * Ticks that can be labelled without touching, and how large: all of them in the largest lettering that allows it.
 *
 * @param x where a frequency lies, px.
 */
export function labelledTicks(
  rangeHz: Interval,
  x: (hz: number) => number,
  fontSize: number,
): { ticks: number[]; fontSize: number } {
  const ticks = ticksIn(rangeHz);
  const touch = (a: number, b: number, size: number): boolean =>
    Math.abs(x(a) - x(b)) < (textWidth(String(a), size) + textWidth(String(b), size)) / 2 + 2;
  for (const shrink of SHRINK) {
    const size = fontSize * shrink;
    if (ticks.every((hz, k) => k === 0 || !touch(ticks[k - 1], hz, size))) return { ticks, fontSize: size };
  }
  const size = fontSize * SHRINK[SHRINK.length - 1];
  const kept: number[] = [];
  for (const hz of [...PRIORITY.filter((one) => ticks.includes(one)), ...ticks]) {
    if (!kept.includes(hz) && kept.every((other) => !touch(hz, other, size))) kept.push(hz);
  }
  return { ticks: kept.sort((a, b) => a - b), fontSize: size };
}

/** Where a frequency lies on a logarithmic axis between two pixels. */
export function logScale([lowHz, highHz]: Interval, left: number, right: number): (hz: number) => number {
  const perOctave = (right - left) / Math.log2(highHz / lowHz);
  return (hz) => left + perOctave * Math.log2(hz / lowHz);
}
