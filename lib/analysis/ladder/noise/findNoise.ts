import type { Curve } from '../../../model/curve';
import type { BandNoise, Rung } from '../cells';
import type { NoiseSource } from '../measureCells';
import { noiseFromRuns } from './noiseFromRuns';
import { noiseFromScatter } from './noiseFromScatter';

/**
 * Find what the noise is in each band: from noise runs, else from the noise columns of the curves, else from the scatter
 * between the lowest rungs.
 *
 * @param rungs lowest first. @param noiseRuns may be empty. @param bandsHz third-octave centres.
 * @returns the noise of each rung, and caveats on what it rests on.
 */
export function findNoise(rungs: Rung[], noiseRuns: Curve[], bandsHz: number[]): NoiseSource & { caveats: string[] } {
  if (noiseRuns.length > 0) {
    const noise = noiseFromRuns(noiseRuns, bandsHz);
    return { from: 'noise run', of: () => noise, caveats: [] };
  }
  const columns = rungs.map(({ curves }) => curves.flatMap(columnOf));
  const filled = columns.filter((column) => column.length > 0);
  if (filled.length > 0) {
    const some = filled.length < rungs.length ? noiseFromRuns(filled.flat(), bandsHz) : [];
    const noise = columns.map((column) => (column.length > 0 ? noiseFromRuns(column, bandsHz) : some));
    const caveats =
      filled.length < rungs.length
        ? ['Some runs came without noise levels; the mean of those of the other runs was taken for them.']
        : [];
    return { from: 'noise in the file', of: (rung) => noise[rung], caveats };
  }
  const scatter = noiseFromScatter(rungs, bandsHz);
  if (scatter === null) {
    const unknown: BandNoise = { power: Number.NaN, points: 0, dependence: 1 };
    return {
      from: 'unknown',
      of: () => bandsHz.map(() => unknown),
      caveats: ['Nothing says how strong the noise is (no noise run, too few points): no value can be trusted.'],
    };
  }
  return { from: 'scatter between rungs', of: () => scatter.bands, caveats: scatterCaveats(scatter.smoothedOver) };
}

function columnOf({ frequencyHz, noiseDb }: Curve) {
  return noiseDb ? [{ frequencyHz, levelDb: noiseDb }] : [];
}

function scatterCaveats(smoothedOver: number): string[] {
  const estimated =
    'There is no noise run: signal-to-noise ratios are estimated from the scatter between the lowest rungs, ' +
    'which is too favourable where the curves have been smoothed.';
  const smooth = `Neighbouring points of the curves move together (over about ${Math.round(smoothedOver)} points), so they were smoothed or written on a finer grid; the noise was raised by that.`;
  return smoothedOver > 1 ? [estimated, smooth] : [estimated];
}
