import type { Caveat } from '../../../model/caveat';
import type { Ladder } from '../../../model/findings';
import { makeCaveat } from '../../../words/makeCaveat';
import type { BandNoise, Cells, Rung } from '../cells';
import { findBreaks } from './findBreaks';
import { findSpoiledCells } from './findSpoiledCells';
import { lastLow } from './lastLow';
import { nameBreaks } from './nameBreaks';

/** What of a ladder is counted with. */
export interface Fit {
  /** The ladder without the cells that are off. */
  cells: Cells;
  /** Rungs that fit each other and are counted with, by index. */
  judged: number[];
  /** Rungs whose compression is shown: those, and what lies between them. */
  shown: number[];
  breaks: Ladder['breaks'];
  caveats: Caveat[];
}

/**
 * Find which rungs fit each other and are counted with, what is left out of them, and why.
 *
 * @param changed of each rung: whether its points differ from those of the rung before as no noise makes them.
 * @param noiseOf noise of a rung, one for each band.
 */
export function findFit(
  asMeasured: Cells,
  rungs: Rung[],
  changed: boolean[],
  noiseOf: (rung: number) => BandNoise[],
): Fit {
  const structure = findBreaks(
    asMeasured,
    rungs.map(({ id }) => id),
    changed,
  );
  const row = structure.rows.reduce((best, one) => (one.length > best.length ? one : best));
  const lowDb = lastLow(asMeasured, row);
  const judged = lowDb === null ? row : row.slice(0, -1);
  const { breaks, caveats } = nameBreaks(asMeasured, rungs, structure, judged);
  if (lowDb !== null) {
    const [lower, upper] = row.slice(-2).map((rung) => rungs[rung]);
    const values = { lower: lower.label, upper: upper.label, offDb: lowDb };
    caveats.push(makeCaveat('ladder-last-run-low', 'doubt', values, { curve: upper.id }));
  }
  const spoiled = findSpoiledCells(asMeasured, rungs, judged, noiseOf);
  const [first, last] = [row[0], row[row.length - 1]];
  const shown = rungs.flatMap((_, rung) => (rung >= first && rung <= last ? [rung] : []));
  return { cells: spoiled.cells, judged, shown, breaks, caveats: [...caveats, ...spoiled.caveats] };
}
