import type { Caveat } from '../../model/caveat';
import { makeCaveat } from '../../words/makeCaveat';
import { cellCaveats } from './cellCaveats';
import { type Cells, pickRungs, type Rung } from './cells';
import { expansionCaveats } from './expansionCaveats';
import type { Counted } from './read/countCells';
import { FOLLOWS_DB } from './read/followsDb';
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
    ...lastOnlyCaveats(part, count, played),
    ...expansionCaveats(part, cells, compression, excess, mattersOf(cells.bandsHz, played)),
  ];
}

/**
 * Doubt limits that the last run alone shows, above bands that follow the drive: excursion and guards begin at the bottom, while
 * a soft dropout looks just like this.
 */
function lastOnlyCaveats(part: Rung[], { cells, compression, limiting }: Counted, played: boolean[]): Caveat[] {
  const top = cells.driveDb.length - 1;
  if (top < 1) return [];
  const follows = (band: number) =>
    played[band] && compression.trusted[top][band] && compression.lossDb[top][band] < FOLLOWS_DB;
  const lowest = cells.bandsHz.findIndex((_, band) => follows(band));
  const runs: number[][] = [];
  limiting.forEach((found, band) => {
    if (!found) return;
    if (limiting[band - 1]) runs[runs.length - 1].push(band);
    else runs.push([band]);
  });
  const isLastOnly = (band: number) => (limiting[band]?.onsetDriveDb ?? 0) > cells.driveDb[top - 1];
  const alone = runs.filter((run) => lowest >= 0 && run[0] > lowest && run.every(isLastOnly)).flat();
  if (alone.length === 0) return [];
  const where = { curve: part[top].id, bandsHz: alone.map((band) => cells.bandsHz[band]) };
  return [makeCaveat('ladder-last-only', 'doubt', { label: part[top].label }, where)];
}
