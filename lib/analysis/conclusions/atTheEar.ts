import type { Exposure } from '../../model/findings';

/** C-weighted levels this much above the A-weighted ones tell that much of the sound is low bass, dB; a choice, no source. */
const BASS_HEAVY_DB = 15;

/** Whether the measuring itself took longer than is permitted at that level. */
export function isTooLong({ permittedSeconds, measuredSeconds }: Exposure): boolean {
  return permittedSeconds !== null && measuredSeconds !== null && measuredSeconds > permittedSeconds;
}

/** Whether most of the sound is low bass, which an A-weighted level hides. */
export function isBassHeavy({ levelDba, levelDbc }: Exposure): boolean {
  return levelDba !== null && levelDbc !== null && levelDbc - levelDba >= BASS_HEAVY_DB;
}
