import type { Cells } from '../cells';
import { cellVariance } from './cellVariance';

/**
 * Estimate what scatters single cells about the shared gains beyond their noise: standard deviation, dB.
 *
 * Notes: from the median of squared residuals, so that a few cells that have begun to compress do not count.
 */
export function extraScatter(cells: Cells, active: boolean[][], gainDb: number[]): number {
  const ratios: number[] = [];
  let expected = 0;
  cells.bandsHz.forEach((_, band) => {
    const on = active.flatMap((row, rung) => (row[band] && Number.isFinite(gainDb[rung]) ? [rung] : []));
    if (on.length < 3) return;
    const rest = on.map((rung) => cells.levelDb[rung][band] - gainDb[rung]);
    const mean = rest.reduce((sum, value) => sum + value, 0) / rest.length;
    on.forEach((rung, i) => {
      ratios.push(((rest[i] - mean) ** 2 * on.length) / (on.length - 1));
      expected += cellVariance(cells, rung, band, 0);
    });
  });
  if (ratios.length === 0) return 0;
  ratios.sort((a, b) => a - b);
  // the median of a squared normal deviate is 0.455 of its mean
  const seen = ratios[ratios.length >> 1] / 0.455;
  return Math.sqrt(Math.max(0, seen - expected / ratios.length));
}
