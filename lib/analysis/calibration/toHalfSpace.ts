/** What a rigid boundary at the source adds: pressure doubles. */
export const HALF_SPACE_GAIN_DB = 20 * Math.log10(2);

/**
 * State a level of full space (4 pi) for a unit that stands on a large rigid ground (half space, 2 pi): 6.02 dB more.
 *
 * @param levelDb in full space. @returns dB in half space at the same distance.
 *
 * Notes: holds where unit and microphone are much nearer to the ground than a quarter of a wavelength, so that the
 * mirror image adds in phase, and where the unit is not loaded differently by it; outdoors on hard ground that is so
 * for the bass. A room has more walls than one: use it not there.
 *
 * Reference: image source in a rigid plane, any textbook of acoustics.
 *
 * @example
 * toHalfSpace(90) // 96.02
 */
export function toHalfSpace(levelDb: number): number {
  return levelDb + HALF_SPACE_GAIN_DB;
}
