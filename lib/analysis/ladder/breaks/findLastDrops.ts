import { bandAround } from '../../../model/octaves';
import { type Cells, type Rung, table } from '../cells';
import { chanceOf, expectSteps } from './expectSteps';
import { hasNewEdge } from './hasNewEdge';
import { FALL_DB } from './readSteps';
import { type PointNoise, stepPoints } from './stepPoints';

/** A band has begun to fall behind by this, dB, and by chance. */
const BEHIND_DB = 0.5;
/** What arrived by this share so far and falls at once is no limit that gives back a little. */
const ARRIVED = 0.7;

/**
 * Find cells of the last rung that fall behind as no limit does that sets in: the level falls though it had arrived in full
 * so far, or what is missing begins at an edge in frequency that the step before does not show.
 *
 * @param row rungs that fit each other. @returns [rung][band], dB off; 0 where a limit may be what is seen.
 *
 * Notes: a limit that sets in takes more or less from band to band, since ceiling and response both change steadily over
 * frequency; what drops out of a sweep begins and ends with it. A drop with soft edges and smaller than a step cannot be told from a limit.
 */
export function findLastDrops(cells: Cells, rungs: Rung[], row: number[], noise: PointNoise): number[][] {
  const found = table(cells.driveDb.length, cells.bandsHz.length, () => 0);
  if (row.length < 3) return found;
  const [top, below, before, beforeThat] = [...row].reverse();
  const expected = expectSteps(cells);
  const now = expected(before, below, top);
  const last = expected(beforeThat, before, below);
  const chance = cells.bandsHz.map((_, band) => Math.max(BEHIND_DB, chanceOf(cells, [below, top], band)));
  // what comes down from a cell that was off itself tells nothing
  const behind = now.map(({ offDb }, band) => -offDb > chance[band] && last[band].excessDb === 0);
  const falls = cells.bandsHz.map((_, band) => {
    const fall = cells.levelDb[below][band] - cells.levelDb[top][band] - FALL_DB;
    return behind[band] && fall > chance[band] && !isLosing(cells, row, band);
  });
  const runs = runsOf(behind);
  if (runs.length === 0) return found;
  const points = stepPoints(rungs[below], rungs[top], noise);
  const earlier = stepPoints(rungs[before], rungs[below], noise);
  for (const run of runs) {
    const [low, high] = [run[0], run[run.length - 1]];
    const lowHz = cells.bandsHz[low - 1] ?? bandAround(cells.bandsHz[low], 3)[0];
    const highHz = cells.bandsHz[high + 1] ?? bandAround(cells.bandsHz[high], 3)[1];
    const mostDb = Math.max(...run.map((band) => -now[band].offDb));
    // limits that are there already may reach the bands beside them with whatever edge
    const grows = [low - 1, ...run, high + 1].some((band) => isLosing(cells, row, band));
    if (run.some((band) => falls[band]) || (!grows && hasNewEdge(points, earlier, [lowHz, highHz], mostDb)))
      for (const band of run) found[top][band] = now[band].offDb;
  }
  return found;
}

/** Whether a band gave less than most of the step before already, beyond chance. */
function isLosing(cells: Cells, row: number[], band: number): boolean {
  const [before, below] = row.slice(-3);
  const rise = cells.driveDb[below] - cells.driveDb[before];
  const missing = rise - (cells.levelDb[below][band] - cells.levelDb[before][band]);
  const chance = chanceOf(cells, [before, below], band);
  return missing >= Math.max((1 - ARRIVED) * rise, chance);
}

/** Rows of neighbouring bands of which something is true. */
function runsOf(flags: boolean[]): number[][] {
  const runs: number[][] = [];
  flags.forEach((flag, band) => {
    if (!flag) return;
    if (flags[band - 1]) runs[runs.length - 1].push(band);
    else runs.push([band]);
  });
  return runs;
}
