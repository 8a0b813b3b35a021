import type { About, Curve } from '../../model/curve';
import { BassloomError } from '../../model/errors';
import type { Ladder } from '../../model/findings';
import { buildLadder } from '../ladder/buildLadder';

/**
 * The ladder that a unit in one setting belongs to: one already built, else one built now.
 *
 * @param curves responses and noise runs, also of other units and settings.
 * @returns undefined where the runs make no ladder.
 */
export function ladderOf({ device, setting }: About, curves: Curve[], ladders: Ladder[]): Ladder | undefined {
  const built = ladders.find((ladder) => ladder.device === device && ladder.setting === setting);
  if (built) return built;
  const own = curves.filter(({ role, about }) => {
    if (role === 'noise') return about.device === undefined || about.device === device;
    return role === 'response' && about.device === device && about.setting === setting && about.driveDb !== undefined;
  });
  try {
    return buildLadder(own);
  } catch (problem) {
    if (problem instanceof BassloomError) return undefined;
    throw problem;
  }
}

/** Index of the rung that a run is, by the id of its curve, else by its drive; -1 where the ladder has none. */
export function rungOf(ladder: Ladder, id: string, driveDb: number | undefined): number {
  const byId = ladder.rungs.findIndex((rung) => rung.id === id);
  return byId >= 0 ? byId : rungAt(ladder, driveDb);
}

/** Index of the rung of a drive; -1 where the ladder has none. */
export function rungAt(ladder: Ladder | undefined, driveDb: number | undefined): number {
  return ladder?.rungs.findIndex((rung) => Math.abs(rung.driveDb - (driveDb as number)) < 0.01) ?? -1;
}
