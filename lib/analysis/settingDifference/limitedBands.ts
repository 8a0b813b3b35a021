import type { Curve } from '../../model/curve';
import type { Ladder } from '../../model/findings';

/** A run that lost more than this in a band does not show what its setting does, dB: as for reference runs. */
const MOST_LOSS_DB = 0.5;
/** Beside such a band less is limiting already, dB; tuned on simulated limiters of the bottom. */
const MOST_BESIDE_DB = 0.2;
/** Drives closer than this are the same drive, dB. */
const SAME_DRIVE_DB = 0.01;

/** Bands that do not show what a setting does, as exact third-octave centres, Hz. */
export interface LimitedBands {
  /** The run is limited already. */
  limited: number[];
  /** Noise, or a first step that does not arrive: the ladder cannot tell. */
  untrusted: number[];
}

/**
 * Bands in which a run is limited already, or in which its ladder cannot tell it from limiting or noise.
 *
 * @returns undefined where no ladder holds the run.
 *
 * Notes: where the ladder knows nothing of the noise none of its cells is trusted; what they lost still tells.
 */
export function limitedBands({ id, about }: Curve, ladders: readonly Ladder[]): LimitedBands | undefined {
  for (const ladder of ladders) {
    if (ladder.device !== about.device || ladder.setting !== about.setting) continue;
    const rung = ladder.rungs.findIndex(
      (one) => one.id === id || Math.abs(one.driveDb - (about.driveDb ?? Number.NaN)) < SAME_DRIVE_DB,
    );
    if (rung < 0) continue;
    const lossDb = ladder.compressionDb[rung].map((loss) => loss ?? 0);
    const isUntrusted = (band: number) => ladder.snrDb[rung][band] !== null && !ladder.trusted[rung][band];
    const isLimited = (band: number) => {
      const besideDb = Math.max(lossDb[band - 1] ?? 0, lossDb[band + 1] ?? 0);
      return lossDb[band] > (besideDb > MOST_LOSS_DB ? MOST_BESIDE_DB : MOST_LOSS_DB);
    };
    return {
      limited: ladder.bandsHz.filter((_, band) => !isUntrusted(band) && isLimited(band)),
      untrusted: ladder.bandsHz.filter((_, band) => isUntrusted(band)),
    };
  }
  return undefined;
}
