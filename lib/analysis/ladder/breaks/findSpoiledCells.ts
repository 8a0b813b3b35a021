import type { Caveat } from '../../../model/caveat';
import { makeCaveat } from '../../../words/makeCaveat';
import { type BandNoise, type Cells, pickRungs, type Rung } from '../cells';
import { mattersOf, playedBands } from '../read/playedBands';
import { findLastDrops } from './findLastDrops';
import { findOddCells } from './findOddCells';
import { findRoughCells } from './findRoughCells';
import { pointNoise } from './stepPoints';

/**
 * Take out the cells that one spoiled run gave: points that scatter, a drop at the last rung, levels that no unit gives; and
 * say so, once for each run.
 *
 * @param row rungs that fit each other. @param noiseOf noise of a rung, one for each band.
 */
export function findSpoiledCells(
  asMeasured: Cells,
  rungs: Rung[],
  row: number[],
  noiseOf: (rung: number) => BandNoise[],
): { cells: Cells; caveats: Caveat[] } {
  const { bandsHz } = asMeasured;
  const noiseAt = pointNoise(bandsHz, noiseOf(row[0]));
  const rough = findRoughCells(rungs, row, bandsHz, noiseAt);
  const smooth = without(asMeasured, rough);
  const low = findLastDrops(smooth, rungs, row, noiseAt);
  const steady = without(smooth, low);
  const off = findOddCells(steady, row);
  const matters = mattersOf(bandsHz, playedBands(pickRungs(asMeasured, row)));
  const caveats = row.flatMap((rung) => {
    const { id: curve, label } = rungs[rung];
    const bandsOf = (...tables: number[][][]) =>
      bandsHz.filter((_, band) => tables.some((found) => found[rung][band] !== 0));
    const most = (found: number[][]) => Math.max(...found[rung].map(Math.abs));
    const [offDb, scatterDb, lowDb] = [off, rough, low].map(most);
    const severityAt = (bands: number[]) =>
      bands.some((hz) => matters[bandsHz.indexOf(hz)]) ? ('doubt' as const) : ('remark' as const);
    const [offAt, roughAt, lowAt] = [bandsOf(off, rough), bandsOf(rough), bandsOf(low)];
    const told: Caveat[] = [];
    const where = (bands: number[]) => ({ curve, bandsHz: bands });
    if (offDb > 0) told.push(makeCaveat('ladder-cells-off', severityAt(offAt), { label, mostDb: offDb }, where(offAt)));
    else if (scatterDb > 0)
      told.push(makeCaveat('ladder-cells-rough', severityAt(roughAt), { label, scatterDb }, where(roughAt)));
    if (lowDb > 0) told.push(makeCaveat('ladder-last-cells-low', severityAt(lowAt), { label, lowDb }, where(lowAt)));
    return told;
  });
  return { cells: without(steady, off), caveats };
}

function without(cells: Cells, found: number[][]): Cells {
  const levelDb = cells.levelDb.map((row, rung) => row.map((db, band) => (found[rung][band] === 0 ? db : Number.NaN)));
  return { ...cells, levelDb };
}
