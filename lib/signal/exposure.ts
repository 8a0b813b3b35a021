import { makeRefusal } from '../words/makeRefusal';

/** Recommended exposure limit: 85 dBA over a day's 8 hours (NIOSH 98-126, 1.1). */
const LIMIT_DBA = 85;
const LIMIT_S = 8 * 3600;
/** Each 3 dB more halve the permitted time (NIOSH 98-126, 1.1.2). */
const EXCHANGE_DB = 3;
/** No exposure above this, however short (NIOSH 98-126, 1.1.3). */
const CEILING_DBA = 140;

/**
 * Time a day that ears may spend at a level by the NIOSH recommendation: 8 h / 2^((L - 85) / 3).
 *
 * @param levelDba A-weighted level at the ear, dB re 20 uPa.
 * @returns seconds a day; 0 above the ceiling of 140 dBA.
 * @throws BassloomError `exposure-level` where the level is not a number.
 *
 * Notes: a limit for steady sound at work, meant to keep most ears, not all. A-weighting takes 30 to 70 dB from low
 * bass, so a low A-weighted level does not make loud low bass harmless; local rules may be stricter.
 *
 * Reference: NIOSH publication 98-126, Criteria for a recommended standard: occupational noise exposure (1998), 1.1.
 *
 * @example
 * permittedSeconds(94) // 3600
 */
export function permittedSeconds(levelDba: number): number {
  if (!Number.isFinite(levelDba)) {
    throw makeRefusal('exposure-level', { level: levelDba }, { field: 'levelDba' });
  }
  return levelDba > CEILING_DBA ? 0 : LIMIT_S / 2 ** ((levelDba - LIMIT_DBA) / EXCHANGE_DB);
}

/**
 * Share of a day's permitted exposure that some stays use up: 1 is all of it.
 *
 * @param stays A-weighted level at the ear (dB re 20 uPa) and duration (s) of each.
 * @throws BassloomError `exposure-level`, `exposure-time`.
 *
 * Reference: NIOSH publication 98-126, 1.1.3 (daily dose, there in percent).
 *
 * @example
 * exposureDose([{ levelDba: 94, seconds: 1800 }, { levelDba: 85, seconds: 14400 }]) // 1
 */
export function exposureDose(stays: { levelDba: number; seconds: number }[]): number {
  return stays.reduce((dose, { levelDba, seconds }) => {
    if (!(seconds >= 0 && Number.isFinite(seconds))) {
      throw makeRefusal('exposure-time', { seconds }, { field: 'seconds' });
    }
    return seconds === 0 ? dose : dose + seconds / permittedSeconds(levelDba);
  }, 0);
}
