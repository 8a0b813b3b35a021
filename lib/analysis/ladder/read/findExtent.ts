import type { Ladder } from '../../../model/findings';
import type { TrackPoint } from './bandTrack';
import type { Limiting } from './findLimiting';
import type { TopStep } from './stepAtTop';

/** With fewer rungs, or bands that follow, or a smaller share of the bands played, nothing is shown. */
const RUNGS = 3;
const BANDS = 3;
const SHOWN = 2 / 3;
/** Where more of the bands played cannot be told, the limits of the rest are no statement on the unit. */
const UNTOLD = 0.5;
/** Share of the bands known at the top that must be limited to speak of everywhere. */
const EVERYWHERE = 0.75;

/** So many bands above those that limit may lose some of the drive already. */
const EDGE = 3;

/** What is known of each band at the top of a ladder. */
export interface BandsAtTop {
  /** Trusted cells. */
  tracks: TrackPoint[][];
  limiting: (Limiting | null)[];
  /** Whether the unit plays the band: its level comes near that of the reference band. */
  played: boolean[];
  steps: TopStep[];
  /** Band of 40 Hz and up, by index: below it is the bottom. */
  bottomEnds: number;
}

/**
 * Say what the limits of all bands come to.
 *
 * @param rungs those judged. @param whole whether the last of them is the top of the ladder.
 * @returns 'none' only where the bands played are shown to follow the drive at the top, a single one between two that
 * do left out (not at the bottom); 'bottom' where the limited bands are joined, the lowest of those played, and the others follow; 'unknown' also
 * where most of the bands played cannot be told.
 *
 * Notes: bands that the unit does not play count where they limit, and are passed over where they do not: a
 * limiter guards the bottom even though nothing is left to guard below.
 */
export function findExtent(
  { tracks, limiting, played, steps, bottomEnds }: BandsAtTop,
  { rungs, whole }: { rungs: number; whole: boolean },
): Ladder['extent'] {
  const top = rungs - 1;
  const follows = steps.map((step) => step === 'arrives');
  const hides = (band: number) => band < bottomEnds || steps[band] === 'short' || reaches(tracks[band], top);
  const limited = limiting.map((found) => found !== null);
  const told = limited.map((is, band) => is || follows[band] || reaches(tracks[band], top));
  const counts = limited.map((is, band) => is || played[band]);
  const known = told.flatMap((is, band) => (is && counts[band] ? [band] : []));
  const untold = played.filter((is, band) => is && !told[band]).length;
  const count = limited.filter(Boolean).length;
  if (count === 0) {
    const shown = known.filter((band) => follows[band]).length;
    const all = played.every((is, band) => !is || follows[band] || (!hides(band) && isBetween(follows, band)));
    const enough = shown >= BANDS && shown >= SHOWN * (known.length + untold);
    return all && enough && rungs >= RUNGS && whole ? 'none' : 'unknown';
  }
  const playsAny = played.includes(true);
  if (untold > UNTOLD * played.filter(Boolean).length || (playsAny && known.length < BANDS)) return 'unknown';
  if (count >= EVERYWHERE * known.length) return known.length >= BANDS ? 'everywhere' : 'parts';
  const low = known.slice(0, count);
  // bands at the edge may have begun to lose, and not yet be limited
  const edge = known.slice(count, count + EDGE).findIndex((band) => follows[band]);
  const others = known.slice(count + Math.max(0, edge));
  const fromBottom = low.every((band) => limited[band]) && others.every((band) => follows[band]);
  // bands below whose reference already falls short belong to no range that was shown
  return fromBottom && others.length >= BANDS ? 'bottom' : 'parts';
}

function reaches(track: TrackPoint[], top: number): boolean {
  return track.length > 1 && track[track.length - 1].rung === top;
}

function isBetween(follows: boolean[], band: number): boolean {
  return follows[band - 1] === true && follows[band + 1] === true;
}
