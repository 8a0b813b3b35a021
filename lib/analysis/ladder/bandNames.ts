import { nominalHz } from '../../model/octaves';

/**
 * Name bands as a person would: neighbours as a range.
 *
 * @param bandsHz centres of all bands. @param bands indices, rising.
 *
 * @example
 * bandNames([10, 12.6, 15.8, 20], [0, 2, 3]) // '10, 16-20 Hz'
 */
export function bandNames(bandsHz: number[], bands: number[]): string {
  const runs: number[][] = [];
  for (const band of bands) {
    const run = runs[runs.length - 1];
    if (run && run[run.length - 1] === band - 1) run.push(band);
    else runs.push([band]);
  }
  const name = (band: number) => String(nominalHz(bandsHz[band]));
  return `${runs.map((run) => (run.length > 1 ? `${name(run[0])}-${name(run[run.length - 1])}` : name(run[0]))).join(', ')} Hz`;
}
