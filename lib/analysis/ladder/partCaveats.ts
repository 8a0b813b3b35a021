import type { Caveat } from '../../model/caveat';
import { cellCaveats } from './cellCaveats';
import { type Cells, pickRungs, type Rung } from './cells';
import { expansionCaveats } from './expansionCaveats';
import type { Counted } from './read/countCells';
import { mattersOf } from './read/playedBands';
import { stepCaveats } from './stepCaveats';

/** What speaks against the part of a ladder that is judged: its cells, its steps, levels that rise by more than the drive. */
export function partCaveats(
  asMeasured: Cells,
  rungs: Rung[],
  judged: number[],
  { count, played, wanted }: { count: Counted; played: boolean[]; wanted: 'commanded' | 'measured' },
): Caveat[] {
  const { levels, proofs, found, check, share, stepUsed: used, runs, cells, compression } = count;
  const part = judged.map((rung) => rungs[rung]);
  const ofCells = cellCaveats(pickRungs(asMeasured, judged), levels, proofs, played);
  // that steps could not be measured where levels hardly rise is said already
  const isTold = ofCells.some(({ code, severity }) => code === 'ladder-stuck' && severity === 'doubt');
  const excess = check.step.differs ? Math.max(0, share - 1) : 0;
  return [
    ...ofCells,
    ...(judged.length > 1 ? stepCaveats(part, found, { wanted, used, isTold }, runs) : []),
    ...expansionCaveats(part, cells, compression, excess, mattersOf(cells.bandsHz, played)),
  ];
}
