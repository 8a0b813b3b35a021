import { checkRoom, type Room } from './room';

/**
 * Frequency above which modes overlap threefold and single ones no longer matter, 2000 sqrt(T / V) Hz.
 *
 * Reference: M. R. Schroeder and K. H. Kuttruff, J. Acoust. Soc. Am. 34 (1962) (from memory).
 *
 * @throws BassloomError as for any room.
 *
 * @example
 * schroederFrequency({ lengthM: 5, widthM: 4, heightM: 2.5, decayS: 0.5 }) // 200
 */
export function schroederFrequency(room: Room): number {
  const { decayS, volumeM3 } = checkRoom(room);
  return 2000 * Math.sqrt(decayS / volumeM3);
}
