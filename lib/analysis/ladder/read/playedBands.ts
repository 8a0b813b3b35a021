import { powerMeanDb } from '../../../model/decibel';
import { nominalHz } from '../../../model/octaves';
import type { Cells } from '../cells';

/** The reference band that points are counted from, too (common practice), nominal centres, Hz. */
const REFERENCE_HZ = [40, 80] as const;
/** What lies further below it is no part of what a unit plays, dB: at 24 dB per octave, some half an octave under the corner. A choice. */
const PLAYED_DB = 15;

/** Below this nothing that units play is judged, Hz (nominal centre). */
const LOWEST_HZ = 16;

/** Bands of which it matters what cannot be told: played, and 16 Hz or above. */
export function mattersOf(bandsHz: number[], played: boolean[]): boolean[] {
  return played.map((is, band) => is && nominalHz(bandsHz[band]) >= LOWEST_HZ);
}

/**
 * Say which bands a unit plays: those that come within 15 dB of the reference band (power mean of 40 to 80 Hz) at some rung.
 *
 * @param cells levels less the noise; below 10 dB signal-to-noise ratio they tend to be too high rather than too low.
 *
 * Notes: the most favourable rung counts, since a bottom that is held falls behind as drive rises. Ladders that do not reach into
 * the reference band are counted from their loudest band.
 */
export function playedBands({ bandsHz, levelDb }: Cells): boolean[] {
  const reference = bandsHz.map((hz) => nominalHz(hz) >= REFERENCE_HZ[0] && nominalHz(hz) <= REFERENCE_HZ[1]);
  const references = levelDb.map((row) => {
    const known = row.filter((level, band) => reference[band] && Number.isFinite(level));
    if (known.length > 0) return powerMeanDb(known);
    return Math.max(...row.filter(Number.isFinite));
  });
  return bandsHz.map((_, band) => levelDb.some((row, rung) => row[band] >= references[rung] - PLAYED_DB));
}
