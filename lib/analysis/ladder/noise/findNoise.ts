import type { Caveat } from '../../../model/caveat';
import type { Curve } from '../../../model/curve';
import { makeCaveat } from '../../../words/makeCaveat';
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
export function findNoise(rungs: Rung[], noiseRuns: Curve[], bandsHz: number[]): NoiseSource & { caveats: Caveat[] } {
  if (noiseRuns.length > 0) {
    const noise = noiseFromRuns(noiseRuns, bandsHz);
    return { from: 'noise run', of: () => noise, caveats: [] };
  }
  const columns = rungs.map(({ curves }) => curves.flatMap(columnOf));
  const filled = columns.filter((column) => column.length > 0);
  if (filled.length > 0) {
    const some = filled.length < rungs.length ? noiseFromRuns(filled.flat(), bandsHz) : [];
    const noise = columns.map((column) => (column.length > 0 ? noiseFromRuns(column, bandsHz) : some));
    const caveats = filled.length < rungs.length ? [makeCaveat('ladder-noise-partial', 'remark', {})] : [];
    return { from: 'noise in the file', of: (rung) => noise[rung], caveats };
  }
  const scatter = noiseFromScatter(rungs, bandsHz);
  if (scatter === null) {
    const unknown: BandNoise = { power: Number.NaN, points: 0, dependence: 1 };
    return {
      from: 'unknown',
      of: () => bandsHz.map(() => unknown),
      caveats: [makeCaveat('ladder-noise-unknown', 'doubt', {})],
    };
  }
  return { from: 'scatter between rungs', of: () => scatter.bands, caveats: scatterCaveats(scatter.smoothedOver) };
}

function columnOf({ frequencyHz, noiseDb }: Curve) {
  return noiseDb ? [{ frequencyHz, levelDb: noiseDb }] : [];
}

function scatterCaveats(smoothedOver: number): Caveat[] {
  const estimated = makeCaveat('ladder-noise-estimated', 'remark', {});
  if (smoothedOver <= 1) return [estimated];
  return [estimated, makeCaveat('ladder-curves-smoothed', 'remark', { points: Math.round(smoothedOver) })];
}
