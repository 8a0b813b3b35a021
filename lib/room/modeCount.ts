import { makeRefusal } from '../words/makeRefusal';
import { checkRoom, type Room } from './room';

/**
 * Estimate how many modes a rectangular room has up to a frequency:
 * 4 pi V f^3 / (3 c^3) + pi S f^2 / (4 c^2) + E f / (8 c), with S the area of all walls and E the length of all edges.
 *
 * @param toHz frequency up to which to count, Hz.
 * @returns a real number, the smooth estimate; the true count steps around it.
 * @throws BassloomError as for any room; `frequency-not-positive`.
 *
 * References: R. H. Bolt (1939) and D. Y. Maa (1939), as in H. Kuttruff, Room Acoustics (from memory).
 *
 * @example
 * modeCount({ lengthM: 4.7, widthM: 4.1, heightM: 3.1 }, 116) // about 20
 */
export function modeCount(room: Room, toHz: number): number {
  const { sizeM, volumeM3, c } = checkRoom(room);
  if (!(toHz > 0) || !Number.isFinite(toHz)) {
    throw makeRefusal('frequency-not-positive', { value: toHz, index: null }, { field: 'toHz' });
  }
  const [x, y, z] = sizeM;
  const wallsM2 = 2 * (x * y + y * z + z * x);
  const edgesM = 4 * (x + y + z);
  const f = toHz / c;
  return (4 / 3) * Math.PI * volumeM3 * f ** 3 + (Math.PI / 4) * wallsM2 * f ** 2 + (edgesM / 8) * f;
}
