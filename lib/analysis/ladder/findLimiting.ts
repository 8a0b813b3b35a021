import type { TrackPoint } from './bandTrack';
import { findOnset } from './findOnset';

/** What a band does at the top of the ladder. */
export interface Limiting {
  /** Where 1 dB is lost, above the lowest rung. */
  onsetDriveDb: number;
  /** Highest level. */
  ceilingDb: number;
  /** Drive from 1 dB of loss to where less than a third of a step arrives; small is sharp. */
  kneeDb: number;
}

/** The last steps are as many as make up this much drive, dB: one of 3 or 2 dB, two of 1 dB. */
const LAST_STEPS_DB = 1.5;
const HALF = 0.5;
const THIRD = 1 / 3;
const SIGMAS = 2.5;

/**
 * Find out whether the last steps of a band add less than half of their drive, and how that set in.
 *
 * @param track trusted cells of the band, reference rung first.
 * @returns null where half or more arrives, or where what is missing may be chance.
 *
 * Notes: the last steps are those that make up 1.5 dB of drive at least, so that small steps do not turn the scatter from run
 * to run into limiting. The slope is taken at the middle of each step and on straight lines between.
 */
export function findLimiting(track: TrackPoint[]): Limiting | null {
  if (track.length < 2) return null;
  const last = track[track.length - 1];
  const start = track.findLast((point) => last.driveDb - point.driveDb >= LAST_STEPS_DB) ?? track[0];
  const driven = last.driveDb - start.driveDb;
  const missing = last.lossDb - start.lossDb;
  const chance = SIGMAS * Math.max(last.deviationDb, start.deviationDb);
  if (missing <= HALF * driven || missing <= chance) return null;
  const onsetDriveDb = findOnset(track, 1)?.driveDb ?? start.driveDb;
  return {
    onsetDriveDb,
    ceilingDb: Math.max(...track.map((point) => point.levelDb)),
    kneeDb: driveOfThird(track) - onsetDriveDb,
  };
}

/** Drive where the share of a step that arrives falls to a third for good; carried on in a straight line beyond the last step. */
function driveOfThird(track: TrackPoint[]): number {
  const steps = track.slice(1).map((point, i) => ({
    at: 0.5 * (point.driveDb + track[i].driveDb),
    share: (point.levelDb - track[i].levelDb) / (point.driveDb - track[i].driveDb),
  }));
  const above = steps.findLastIndex((step) => step.share > THIRD);
  if (above < 0) return track[0].driveDb;
  const from = Math.min(above, Math.max(0, steps.length - 2));
  const [a, b] = [steps[from], steps[from + 1]];
  if (!b || a.share <= b.share) return steps[above].at;
  return a.at + ((a.share - THIRD) / (a.share - b.share)) * (b.at - a.at);
}
