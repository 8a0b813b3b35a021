import type { Interval } from '../../model/curve';
import { textWidth } from './layout';

/** The ticks a person in this trade reads on a low-frequency axis, Hz. */
export const TICKS_HZ = [5, 10, 16, 20, 31.5, 40, 63, 80, 100, 160, 200];

/** What a curve that reaches further is read by. */
const BEYOND_HZ = [1, 2, 400, 1000, 2000, 5000, 10_000, 20_000];

/** Sizes of lettering to be tried, of the chart's own; the last is the least that can be read on a phone. */
const SHRINK = [1, 0.92, 0.84, 0.775];

/** Between neighbouring labels, in letter heights: about a blank. */
const LABEL_GAP = 0.25;

/** All ticks inside a range; its ends where there are none. */
export function ticksIn(rangeHz: Interval): number[] {
  const all = [...TICKS_HZ, ...BEYOND_HZ].sort((a, b) => a - b);
  const inside = all.filter((hz) => hz >= rangeHz[0] * 0.999 && hz <= rangeHz[1] * 1.001);
  return inside.length > 0 ? inside : rangeHz.map((hz) => Number(hz.toPrecision(2)));
}

/** Labels of the frequency axis: none is left out. */
export interface TickLabels {
  fontSize: number;
  /** Ticks, Hz, that go into a second row because they would touch their neighbours. */
  lowered: Set<number>;
}

/**
 * Choose the largest lettering in which all ticks can be labelled in one row; where none is small enough, every label
 * that would touch its neighbour goes into a second row.
 *
 * @param x where a frequency lies, px.
 */
export function tickLabels(rangeHz: Interval, x: (hz: number) => number, fontSize: number): TickLabels {
  const ticks = ticksIn(rangeHz);
  const touch = (a: number, b: number, size: number): boolean =>
    Math.abs(x(a) - x(b)) < (textWidth(String(a), size) + textWidth(String(b), size)) / 2 + size * LABEL_GAP;
  for (const shrink of SHRINK) {
    const size = fontSize * shrink;
    if (ticks.every((hz, k) => k === 0 || !touch(ticks[k - 1], hz, size)))
      return { fontSize: size, lowered: new Set() };
  }
  const size = fontSize * SHRINK[SHRINK.length - 1];
  const lowered = new Set<number>();
  let last: number | undefined;
  for (const hz of ticks) {
    if (last !== undefined && touch(last, hz, size)) lowered.add(hz);
    else last = hz;
  }
  return { fontSize: size, lowered };
}

/** Where a frequency lies on a logarithmic axis between two pixels. */
export function logScale([lowHz, highHz]: Interval, left: number, right: number): (hz: number) => number {
  const perOctave = (right - left) / Math.log2(highHz / lowHz);
  return (hz) => left + perOctave * Math.log2(hz / lowHz);
}
