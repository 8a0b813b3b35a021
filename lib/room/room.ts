import { makeRefusal } from '../words/makeRefusal';
import { speedOfSound } from './speedOfSound';

/** A place in the room, metres from one corner of the floor along length, width and height. */
export type Position = [alongLengthM: number, alongWidthM: number, heightM: number];

/** A rectangular room with what stands in it. */
export interface Room {
  lengthM: number;
  widthM: number;
  heightM: number;
  /** Degrees Celsius, default 20. */
  temperatureC?: number;
  /** Reverberation time of the bass, s; default 0.5, a furnished living room (common practice, no source). */
  decayS?: number;
  source?: Position;
  microphone?: Position;
}

/** A checked room in the terms that the sums are written in. */
export interface CheckedRoom {
  /** Along length, width, height, m. */
  sizeM: [number, number, number];
  volumeM3: number;
  /** Speed of sound, m/s. */
  c: number;
  decayS: number;
  /** Decay constant of the amplitude, 3 ln 10 / decayS, 1/s. */
  damping: number;
  source?: Position;
  microphone?: Position;
}

/** A checked room with both positions known. */
export type PlacedRoom = CheckedRoom & Required<Pick<CheckedRoom, 'source' | 'microphone'>>;

export const DEFAULT_DECAY_S = 0.5;

/** Nearer than this no loudspeaker is a point: a prediction would mean nothing. */
const NEAREST_M = 0.1;

const SIDES = ['lengthM', 'widthM', 'heightM'] as const;

/**
 * Check a room and fill in what was left out.
 *
 * @throws BassloomError with the field: `room-dimension`, `room-temperature`, `room-decay`, `position-malformed`,
 * `position-outside`, `positions-coincide` (nearer than 0.1 m).
 *
 * @example
 * checkRoom({ lengthM: 6, widthM: 4.5, heightM: 2.5 }).volumeM3 // 67.5
 */
export function checkRoom(room: Room): CheckedRoom {
  for (const field of SIDES) checkPositive(room?.[field], field, 'room-dimension');
  const decayS = room.decayS ?? DEFAULT_DECAY_S;
  checkPositive(decayS, 'decayS', 'room-decay');
  const sizeM: [number, number, number] = [room.lengthM, room.widthM, room.heightM];
  if (room.source) checkPosition(room.source, 'source', sizeM);
  if (room.microphone) checkPosition(room.microphone, 'microphone', sizeM);
  if (room.source && room.microphone) checkApart(room.source, room.microphone);
  return {
    sizeM,
    volumeM3: sizeM[0] * sizeM[1] * sizeM[2],
    c: speedOfSound(room.temperatureC),
    decayS,
    damping: (3 * Math.LN10) / decayS,
    source: room.source,
    microphone: room.microphone,
  };
}

/**
 * Check a room that must have a source and a microphone in it.
 *
 * @throws BassloomError as {@link checkRoom}, and `position-missing`.
 */
export function checkPlacedRoom(room: Room): PlacedRoom {
  const checked = checkRoom(room);
  for (const field of ['source', 'microphone'] as const) {
    if (checked[field]) continue;
    throw makeRefusal('position-missing', {}, { field });
  }
  return checked as PlacedRoom;
}

function checkPositive(value: number, field: string, code: 'room-dimension' | 'room-decay'): void {
  if (typeof value === 'number' && Number.isFinite(value) && value > 0) return;
  throw makeRefusal(code, { value }, { field });
}

function checkPosition(position: unknown, field: string, sizeM: number[]): void {
  if (!Array.isArray(position) || position.length !== 3 || !position.every((x) => Number.isFinite(x))) {
    throw makeRefusal('position-malformed', {}, { field });
  }
  const axis = position.findIndex((x, i) => x < 0 || x > sizeM[i]);
  if (axis < 0) return;
  throw makeRefusal('position-outside', { axis, atM: position[axis], sideM: sizeM[axis] }, { field });
}

function checkApart(source: Position, microphone: Position): void {
  const apartM = Math.hypot(...source.map((x, i) => x - microphone[i]));
  if (apartM >= NEAREST_M) return;
  throw makeRefusal('positions-coincide', { apartM, leastM: NEAREST_M }, { field: 'microphone' });
}
