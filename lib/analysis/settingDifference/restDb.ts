import type { DifferenceSamples } from './differenceSamples';

/** Standard deviations by which an octave may leave more than chance. */
const CHANCE = 3;

/**
 * What a line leaves of samples in the worst octave, beyond chance, dB rms.
 *
 * Notes: octaves overlap by half. Judged one by one: a quiet top with many samples must not hide a bottom that does not
 * fit. The mean square of n samples scatters by sqrt(2 / n) of itself.
 */
export function restDb({ hz, differenceDb, sigma }: DifferenceSamples, line: (hz: number) => number): number {
  const octaves = new Map<number, { left: number; chance: number; count: number }>();
  hz.forEach((f, i) => {
    const half = Math.floor(2 * Math.log2(f));
    for (const key of [half, half - 1]) {
      const { left, chance, count } = octaves.get(key) ?? { left: 0, chance: 0, count: 0 };
      const off = (differenceDb[i] - line(f)) ** 2;
      octaves.set(key, { left: left + off, chance: chance + sigma[i] ** 2, count: count + 1 });
    }
  });
  const rests = [...octaves.values()]
    .filter(({ count }) => count >= 4)
    .map(({ left, chance, count }) => (left - (1 + CHANCE * Math.sqrt(2 / count)) * chance) / count);
  return Math.sqrt(Math.max(0, ...rests));
}
