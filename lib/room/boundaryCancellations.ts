import { makeRefusal } from '../words/makeRefusal';
import { checkPlacedRoom, type Room } from './room';

/** A frequency at which the reflection from one boundary reaches the microphone upside down. */
export interface BoundaryCancellation {
  boundary:
    | 'wall at length 0'
    | 'far wall of the length'
    | 'wall at width 0'
    | 'far wall of the width'
    | 'floor'
    | 'ceiling';
  frequencyHz: number;
  /** Detour of the reflection against the direct sound, m. */
  pathDifferenceM: number;
  /** Level of direct sound and this reflection together re direct sound alone, dB, negative. */
  levelDb: number;
}

const BOUNDARIES = [
  ['wall at length 0', 'far wall of the length'],
  ['wall at width 0', 'far wall of the width'],
  ['floor', 'ceiling'],
] as const;

/**
 * Find where direct sound and the first reflection from each boundary cancel: where the detour is
 * half a wavelength, and its odd multiples. This looks at one reflection at a time;
 * in a room with few modes {@link predictTransfer} says what is really heard.
 *
 * @param room with source and microphone.
 * @param options.toHz highest frequency to list, Hz, default 200.
 * @returns lowest frequency first; a boundary that the source or microphone touches makes no detour and is not listed.
 * @throws BassloomError as for any room; `position-missing`, `frequency-not-positive`.
 *
 * @example
 * const room: Room = { lengthM: 6, widthM: 5, heightM: 3, source: [0, 1, 0], microphone: [3, 2, 1.2] };
 * boundaryCancellations(room).map((one) => `${one.boundary}: ${one.frequencyHz.toFixed(0)} Hz`)
 */
export function boundaryCancellations(room: Room, options: { toHz?: number } = {}): BoundaryCancellation[] {
  const { sizeM, c, source, microphone } = checkPlacedRoom(room);
  const toHz = options.toHz ?? 200;
  if (!(toHz > 0) || !Number.isFinite(toHz)) {
    throw makeRefusal('frequency-not-positive', { value: toHz, index: null }, { field: 'toHz' });
  }
  const direct = Math.hypot(...source.map((x, axis) => x - microphone[axis]));
  const found: BoundaryCancellation[] = [];
  BOUNDARIES.forEach((pair, axis) => {
    pair.forEach((boundary, far) => {
      const image = source.map((x, i) => (i === axis ? 2 * far * sizeM[axis] - x : x));
      const reflected = Math.hypot(...image.map((x, i) => x - microphone[i]));
      const pathDifferenceM = reflected - direct;
      const levelDb = 20 * Math.log10(1 - direct / reflected);
      const lowest = c / (2 * pathDifferenceM);
      for (let frequencyHz = lowest; frequencyHz <= toHz; frequencyHz += 2 * lowest) {
        found.push({ boundary, frequencyHz, pathDifferenceM, levelDb });
      }
    });
  });
  return found.sort((a, b) => a.frequencyHz - b.frequencyHz);
}
