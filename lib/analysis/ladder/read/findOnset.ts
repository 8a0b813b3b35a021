import type { TrackPoint } from './bandTrack';

/** How far the next rung may fall back below the wanted compression, dB; more where chance may take more, up to half of it. */
const BACK_DB = 0.25;
const SIGMAS_BACK = 2.5;
/** A crossing at the last rung has no next rung to confirm it: it must stand out of chance by itself. */
const SIGMAS_LAST = 3;

/**
 * Find where straight lines between the rungs of a band first reach a compression and stay.
 *
 * @param track trusted cells of the band, reference rung first. @param wantedDb compression, > 0.
 * @returns drive above the lowest rung and the level there; null where it is never reached.
 *
 * Notes: one cell beyond is not enough: the next rung must confirm it (to 0.25 dB or 2.5 standard deviations), or, at
 * the last rung, it must exceed three standard deviations.
 *
 * @example
 * findOnset(bandTrack(cells, compression, 3), 1) // { driveDb: 13.5, levelDb: 101.2 }
 */
export function findOnset(track: TrackPoint[], wantedDb: number): { driveDb: number; levelDb: number } | null {
  for (let i = 1; i < track.length; i++) {
    const [before, here, next] = [track[i - 1], track[i], track[i + 1]];
    if (!(here.lossDb >= wantedDb)) continue;
    const confirmed = next
      ? next.lossDb >= wantedDb - Math.min(wantedDb / 2, Math.max(BACK_DB, SIGMAS_BACK * next.deviationDb))
      : here.lossDb >= SIGMAS_LAST * here.deviationDb;
    if (!confirmed || before.lossDb >= wantedDb) continue;
    const part = (wantedDb - before.lossDb) / (here.lossDb - before.lossDb);
    return {
      driveDb: before.driveDb + part * (here.driveDb - before.driveDb),
      levelDb: before.levelDb + part * (here.levelDb - before.levelDb),
    };
  }
  return null;
}
