import { median } from '../fitting/median';
import type { DifferenceSamples } from './differenceSamples';

/** Windows of half an octave, overlapping by half; fewer samples tell nothing. */
const WINDOWS_PER_OCTAVE = 4;
const FEWEST = 4;
/** Standard deviations by which a median may be off by chance. */
const CHANCE = 3;

/** What a line leaves of the samples in half an octave. */
export interface WindowRest {
  hz: number;
  /** Median of samples - line, dB. */
  db: number;
  /** What that may be by chance, dB. */
  chanceDb: number;
}

/**
 * How far a line passes by the samples, half octave by half octave.
 *
 * Notes: medians, since bins near the noise and in dips of the room scatter with long tails. The median of n samples
 * scatters by 1.25 s / sqrt(n), s the larger of what is known of it and what their median step tells. Judged by half
 * octaves: a quiet top with many samples must not hide a bottom that does not fit.
 */
export function windowRests(
  { hz, differenceDb, scatterDb }: DifferenceSamples,
  line: (hz: number) => number,
): WindowRest[] {
  const windows = new Map<number, number[]>();
  hz.forEach((f, i) => {
    const quarter = Math.floor(WINDOWS_PER_OCTAVE * Math.log2(f));
    for (const key of [quarter - 1, quarter]) windows.set(key, [...(windows.get(key) ?? []), i]);
  });
  return [...windows.values()].flatMap((window) => {
    if (window.length < FEWEST) return [];
    const rests = window.map((i) => differenceDb[i] - line(hz[i]));
    const steps = rests.slice(1).map((rest, i) => Math.abs(rest - rests[i]));
    const seen = (1.4826 / Math.SQRT2) * median(steps);
    const scatter = Math.max(seen, median(window.map((i) => scatterDb[i])));
    const chanceDb = (CHANCE * 1.25 * scatter) / Math.sqrt(rests.length);
    return [{ hz: hz[window[window.length >> 1]], db: median(rests), chanceDb }];
  });
}

/** How far a line passes by the samples in the worst half octave, beyond chance, dB. */
export function restDb(samples: DifferenceSamples, line: (hz: number) => number): number {
  return windowRests(samples, line).reduce((worst, { db, chanceDb }) => Math.max(worst, Math.abs(db) - chanceDb), 0);
}
