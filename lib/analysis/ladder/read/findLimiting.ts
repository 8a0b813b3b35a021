import type { TrackPoint } from './bandTrack';
import { findOnset } from './findOnset';

/** What a band does at the top of the ladder. */
export interface Limiting {
  /** Where 1 dB is lost, above the lowest rung. */
  onsetDriveDb: number;
  /** Highest level. */
  ceilingDb: number;
  /** Whether hardly anything arrives any more as soon as something is lost. */
  sharp: boolean;
}

/** The last steps are as many as make up this much drive, dB: one of 3 or 2 dB, two of 1 dB. */
const LAST_STEPS_DB = 1.5;
const HALF = 0.5;
const SIGMAS = 2.5;
const THIRD = 1 / 3;
/** What may be lost where a third still arrives, for a sharp onset: dB, or this share of a (large) step. */
const SHARP_LOSS_DB = 1.75;
const SHARP_STEP_SHARE = 0.5;

/**
 * Find out whether the last steps of a band add less than half of their drive, and how that set in.
 *
 * @param track trusted cells of the band, reference rung first.
 * @returns null where half or more arrives, or where what is missing may be chance.
 *
 * Notes: the last steps are those that make up 1.5 dB of drive at least, so that small steps do not turn the scatter from
 * run to run into limiting. The onset is sharp where no more than 1.75 dB are lost by the time that less than a third of the
 * drive arrives: nothing for a wall but what coarse steps make of it, 2 dB for a knee 9 dB wide, 5 dB where powers add softly.
 */
export function findLimiting(track: TrackPoint[]): Limiting | null {
  if (track.length < 2) return null;
  const last = track[track.length - 1];
  const start = track.findLast((point) => last.driveDb - point.driveDb >= LAST_STEPS_DB) ?? track[0];
  const driven = last.driveDb - start.driveDb;
  const missing = last.lossDb - start.lossDb;
  const chance = SIGMAS * Math.max(last.deviationDb, start.deviationDb);
  if (missing <= HALF * driven || missing <= chance) return null;
  const third = whereThirdArrives(track);
  return {
    onsetDriveDb: findOnset(track, 1)?.driveDb ?? start.driveDb,
    ceilingDb: Math.max(...track.map((point) => point.levelDb)),
    sharp: third.lossDb <= Math.max(SHARP_LOSS_DB, SHARP_STEP_SHARE * third.stepDb),
  };
}

/**
 * Loss where the share of the drive that arrives falls to a third for good, the share taken at the middle of each step and
 * on straight lines between; carried on beyond the last step.
 */
function whereThirdArrives(track: TrackPoint[]): { lossDb: number; stepDb: number } {
  const steps = track.slice(1).map((point, i) => {
    const stepDb = point.driveDb - track[i].driveDb;
    const middle = 0.5 * (point.driveDb + track[i].driveDb);
    return { stepDb, middle, share: 1 - (point.lossDb - track[i].lossDb) / stepDb };
  });
  const above = steps.findLastIndex((step) => step.share > THIRD);
  if (above < 0) return { lossDb: track[0].lossDb, stepDb: steps[0].stepDb };
  const from = Math.min(above, Math.max(0, steps.length - 2));
  const [a, b] = [steps[from], steps[from + 1]];
  const falls = b && a.share > b.share;
  const drive = falls
    ? a.middle + ((a.share - THIRD) / (a.share - b.share)) * (b.middle - a.middle)
    : steps[above].middle;
  return { lossDb: lossAt(track, drive), stepDb: steps[above].stepDb };
}

function lossAt(track: TrackPoint[], driveDb: number): number {
  const next = track.findIndex((point, i) => i > 0 && point.driveDb >= driveDb);
  const to = next < 0 ? track.length - 1 : next;
  const [a, b] = [track[to - 1], track[to]];
  return a.lossDb + ((driveDb - a.driveDb) / (b.driveDb - a.driveDb)) * (b.lossDb - a.lossDb);
}
