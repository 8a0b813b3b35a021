import { median } from '../fitting/median';
import type { DifferenceSamples } from './differenceSamples';

/** Windows of half an octave, overlapping by half; fewer samples tell nothing. */
const WINDOWS_PER_OCTAVE = 4;
const FEWEST = 4;
/** Standard deviations by which a median may be off by chance. */
const CHANCE = 3;

/**
 * How far a line passes by the samples in the worst half octave, beyond chance, dB.
 *
 * Notes: medians, since bins near the noise and in dips of the room scatter with long tails. The median of n samples
 * scatters by 1.25 s / sqrt(n), s the larger of what is known of it and what their median step tells. Judged by half octaves: a quiet top with many
 * samples must not hide a bottom that does not fit.
 */
export function restDb({ hz, differenceDb, scatterDb }: DifferenceSamples, line: (hz: number) => number): number {
  const windows = new Map<number, number[]>();
  hz.forEach((f, i) => {
    const quarter = Math.floor(WINDOWS_PER_OCTAVE * Math.log2(f));
    for (const key of [quarter, quarter - 1]) windows.set(key, [...(windows.get(key) ?? []), i]);
  });
  let worst = 0;
  for (const window of windows.values()) {
    if (window.length < FEWEST) continue;
    const rests = window.map((i) => differenceDb[i] - line(hz[i]));
    const steps = rests.slice(1).map((rest, i) => Math.abs(rest - rests[i]));
    const seen = (1.4826 / Math.SQRT2) * median(steps);
    const scatter = Math.max(seen, median(window.map((i) => scatterDb[i])));
    worst = Math.max(worst, Math.abs(median(rests)) - (CHANCE * 1.25 * scatter) / Math.sqrt(rests.length));
  }
  return worst;
}
