import { makeRefusal } from '../words/makeRefusal';
import { modeCount } from './modeCount';
import { checkRoom, type Room } from './room';

/** A standing wave of the room. */
export interface Mode {
  frequencyHz: number;
  /** Half waves along length, width and height. */
  order: [number, number, number];
  /** Along one axis, two or all three. */
  kind: 'axial' | 'tangential' | 'oblique';
}

/** More than anyone reads, and still quick. */
const MOST_MODES = 100_000;

const KINDS = ['axial', 'axial', 'tangential', 'oblique'] as const;

/**
 * List the modes of a rectangular room with rigid walls, lowest first: f = c/2 sqrt((n/L)^2 + (m/W)^2 + (l/H)^2).
 * The uniform pressure (0, 0, 0) is not listed. Soft or leaky walls lower real modes by a few per cent.
 *
 * @param room sizes in m; positions and decay do not matter.
 * @param options.toHz highest frequency to list, Hz.
 * @throws BassloomError as for any room; `frequency-not-positive`; `too-many-modes` beyond about 100,000.
 *
 * Reference: Rayleigh, Theory of Sound, section 267 (from memory).
 *
 * @example
 * roomModes({ lengthM: 6, widthM: 4.5, heightM: 2.5 }, { toHz: 40 })[0]
 * // { frequencyHz: 28.6, order: [1, 0, 0], kind: 'axial' }
 */
export function roomModes(room: Room, options: { toHz: number }): Mode[] {
  const { sizeM, c } = checkRoom(room);
  const { toHz } = options;
  const expected = modeCount(room, toHz);
  if (expected > MOST_MODES) {
    throw makeRefusal('too-many-modes', { toHz, modes: Math.round(expected) }, { field: 'toHz' });
  }
  const half = sizeM.map((side) => c / (2 * side));
  const modes: Mode[] = [];
  for (let n = 0; n * half[0] <= toHz; n++) {
    for (let m = 0; Math.hypot(n * half[0], m * half[1]) <= toHz; m++) {
      for (let l = 0; ; l++) {
        const frequencyHz = Math.hypot(n * half[0], m * half[1], l * half[2]);
        if (frequencyHz > toHz) break;
        const axes = Math.sign(n) + Math.sign(m) + Math.sign(l);
        if (axes > 0) modes.push({ frequencyHz, order: [n, m, l], kind: KINDS[axes] });
      }
    }
  }
  return modes.sort((a, b) => a.frequencyHz - b.frequencyHz);
}
