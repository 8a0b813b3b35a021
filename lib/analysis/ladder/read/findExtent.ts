import type { Ladder } from '../../../model/findings';
import type { TrackPoint } from './bandTrack';
import type { Limiting } from './findLimiting';
import type { Proof } from './proveReferences';

/** The last steps are those that make up this much drive, dB, as for limiting. */
const LAST_STEPS_DB = 1.5;
/** So much of them may be missing where a band still follows the drive; and chance may take no more than twice that. */
const MISSING = 0.3;
const SIGMAS = 2.5;
/** With fewer rungs, or bands that follow, or a smaller share of all bands, nothing is shown. */
const RUNGS = 3;
const BANDS = 3;
const SHOWN = 2 / 3;
/** Share of the bands known at the top that must be limited to speak of everywhere. */
const EVERYWHERE = 0.75;

/**
 * Say what the limits of all bands come to.
 *
 * @param tracks trusted cells of each band. @param limiting of each band. @param proofs of their references.
 * @param rungs those judged. @param top index of the last of them; @param whole whether that is the top of the ladder.
 * @returns 'none' only where trusted steps at the top show that two thirds of the bands follow the drive, none is limited and
 * no two bands have a reference that falls short; 'bottom' where the limited bands are joined, the lowest that are known, and
 * the others follow.
 */
export function findExtent(
  tracks: TrackPoint[][],
  limiting: (Limiting | null)[],
  proofs: Proof[],
  { rungs, top, whole }: { rungs: number; top: number; whole: boolean },
): Ladder['extent'] {
  const limited = limiting.map((found) => found !== null);
  const follows = tracks.map((track, band) => !limited[band] && followsDrive(track, top));
  const known = limited.flatMap((is, band) => (is || follows[band] || reaches(tracks[band], top) ? [band] : []));
  const count = limited.filter(Boolean).length;
  if (count === 0) {
    const short = proofs.filter((proof) => proof === 'short').length;
    const shown = follows.filter(Boolean).length;
    const enough = shown >= BANDS && shown >= SHOWN * tracks.length && shown === known.length;
    return enough && short < 2 && rungs >= RUNGS && whole ? 'none' : 'unknown';
  }
  if (count >= EVERYWHERE * known.length) return known.length >= BANDS ? 'everywhere' : 'parts';
  const low = known.slice(0, count);
  const others = known.slice(count);
  const fromBottom = low.every((band) => limited[band]) && others.every((band) => follows[band]);
  // bands below whose reference already falls short belong to no range that was shown
  return fromBottom && others.length >= BANDS ? 'bottom' : 'parts';
}

function reaches(track: TrackPoint[], top: number): boolean {
  return track.length > 1 && track[track.length - 1].rung === top;
}

function followsDrive(track: TrackPoint[], top: number): boolean {
  if (!reaches(track, top)) return false;
  const last = track[track.length - 1];
  const start = track.findLast((point) => last.driveDb - point.driveDb >= LAST_STEPS_DB) ?? track[0];
  const driven = last.driveDb - start.driveDb;
  const chance = SIGMAS * Math.max(last.deviationDb, start.deviationDb);
  const missing = last.lossDb - start.lossDb;
  return missing <= Math.max(MISSING * driven, Math.min(chance, 2 * MISSING * driven));
}
