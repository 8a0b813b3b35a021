import type { Caveat } from '../../../model/caveat';
import type { Ladder } from '../../../model/findings';
import { makeCaveat } from '../../../words/makeCaveat';
import { median } from '../../fitting/median';
import type { Cells, Rung } from '../cells';
import { findBreaks } from './findBreaks';
import { findOddCells } from './findOddCells';
import { isLastLow } from './isLastLow';
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

/** Which rungs fit each other and are counted with, what is left out of them, and why. */
export function findFit(asMeasured: Cells, rungs: Rung[], changed: boolean[]): Fit {
  const structure = findBreaks(
    asMeasured,
    rungs.map(({ id }) => id),
    changed,
  );
  const row = structure.rows.reduce((best, one) => (one.length > best.length ? one : best));
  const lastLow = isLastLow(asMeasured, row);
  const judged = lastLow ? row.slice(0, -1) : row;
  const { breaks, caveats } = nameBreaks(asMeasured, rungs, structure, judged);
  if (lastLow) {
    const [below, top] = row.slice(-2);
    const offDb = median(
      asMeasured.levelDb[top].map((db, b) => db - asMeasured.levelDb[below][b]).filter(Number.isFinite),
    );
    const values = {
      lower: rungs[below].label,
      upper: rungs[top].label,
      offDb: offDb - rungs[top].driveDb + rungs[below].driveDb,
    };
    caveats.push(makeCaveat('ladder-last-run-low', 'doubt', values, { curve: rungs[top].id }));
  }
  const odd = findOddCells(asMeasured, judged);
  for (const rung of judged) {
    const bandsHz = asMeasured.bandsHz.filter((_, band) => odd[rung][band] !== 0);
    if (bandsHz.length === 0) continue;
    const mostDb = Math.max(...odd[rung].map(Math.abs));
    caveats.push(
      makeCaveat('ladder-cells-off', 'doubt', { label: rungs[rung].label, mostDb }, { curve: rungs[rung].id, bandsHz }),
    );
  }
  const levelDb = asMeasured.levelDb.map((levels, rung) =>
    levels.map((level, band) => (odd[rung][band] === 0 ? level : Number.NaN)),
  );
  const [first, last] = [row[0], row[row.length - 1]];
  const shown = rungs.flatMap((_, rung) => (rung >= first && rung <= last ? [rung] : []));
  return { cells: { ...asMeasured, levelDb }, judged, shown, breaks, caveats };
}
