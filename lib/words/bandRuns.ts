import { nominalHz } from '../model/octaves';

/** Centres of neighbouring third octaves lie no further apart than this ratio (10^0.1 is 1.26). */
const NEIGHBOUR = 1.3;

/**
 * Name third-octave bands as a person would, neighbours as a range; `hzList` writes them out.
 *
 * @param bandsHz exact centres, rising.
 *
 * @example
 * bandRuns([10, 15.85, 19.95]) // [10, [16, 20]]
 */
export function bandRuns(bandsHz: readonly number[] = []): (number | [number, number])[] {
  const runs: number[][] = [];
  for (const hz of bandsHz) {
    const run = runs[runs.length - 1];
    if (run && hz < run[run.length - 1] * NEIGHBOUR) run.push(hz);
    else runs.push([hz]);
  }
  return runs.map((run) => (run.length > 1 ? [nominalHz(run[0]), nominalHz(run[run.length - 1])] : nominalHz(run[0])));
}
