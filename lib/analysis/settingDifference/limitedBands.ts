import type { Curve } from '../../model/curve';
import type { Ladder } from '../../model/findings';

/** A run that lost more than this in a band does not show what its setting does, dB: as for reference runs. */
const MOST_LOSS_DB = 0.5;
/** Drives closer than this are the same drive, dB. */
const SAME_DRIVE_DB = 0.01;

/**
 * Bands in which a run is limited already, or in which its ladder cannot tell it from limiting or noise.
 *
 * @returns exact third-octave centres, Hz; undefined where no ladder holds the run.
 *
 * Notes: where the ladder knows nothing of the noise none of its cells is trusted; what they lost still tells.
 */
export function limitedBands({ id, about }: Curve, ladders: readonly Ladder[]): number[] | undefined {
  for (const ladder of ladders) {
    if (ladder.device !== about.device || ladder.setting !== about.setting) continue;
    const rung = ladder.rungs.findIndex(
      (one) => one.id === id || Math.abs(one.driveDb - (about.driveDb ?? Number.NaN)) < SAME_DRIVE_DB,
    );
    if (rung < 0) continue;
    return ladder.bandsHz.filter((_, band) => {
      const lossDb = ladder.compressionDb[rung][band];
      const isNoisy = ladder.snrDb[rung][band] !== null && !ladder.trusted[rung][band];
      return isNoisy || (lossDb !== null && lossDb > MOST_LOSS_DB);
    });
  }
  return undefined;
}
