import { BassloomError } from '../../model/errors';
import { predictTransfer } from '../../room/predictTransfer';
import type { Room } from '../../room/room';
import { speedOfSound } from '../../room/speedOfSound';
import type { Gain } from '../unitResponse';
import type { SoundRigSpec } from './soundRigSpec';

type Placed = Pick<SoundRigSpec, 'room' | 'distanceM'>;

/** Speed of sound in free field, m/s, as in the bench for curves. */
const FREE_SPEED = 343;
/** Sums over modes are slow; those of the last rooms are kept. */
const KEPT = 4;
const kept = new Map<string, Gain[]>();

/** How far the microphone stands from the source, m. */
export function distanceOf({ room, distanceM = 1 }: Placed): number {
  if (!room?.source || !room.microphone) return distanceM;
  const { source, microphone } = room;
  return Math.hypot(...source.map((x, i) => x - microphone[i]));
}

/** Time that the direct sound takes, s. */
export function flightS(rig: Placed): number {
  return distanceOf(rig) / (rig.room ? speedOfSound(rig.room.temperatureC) : FREE_SPEED);
}

/**
 * What lies between source and microphone: the room by its modal sum, or free field.
 *
 * @param rig its room, or its distance. @param frequencyHz Hz, above 0.
 * @returns level and phase at each, re free field at 1 m; phase with the time of flight.
 */
export function roomPath(rig: Placed, frequencyHz: number[]): Gain[] {
  if (!rig.room) {
    const db = -20 * Math.log10(distanceOf(rig));
    return frequencyHz.map((hz) => ({ db, deg: -360 * hz * flightS(rig) }));
  }
  const { levelDb, phaseDeg } = predictTransfer(rig.room, frequencyHz);
  return levelDb.map((db, i) => ({ db, deg: phaseDeg[i] }));
}

/**
 * The same at 1, 2, 3 ... times a step, up to a top frequency; above what a sum of modes can give in reasonable time,
 * the direct sound alone.
 *
 * @returns the gains, and up to where they are those of `roomPath`.
 */
export function pathOnGrid(rig: Placed, stepHz: number, topHz: number): { gains: Gain[]; exactToHz: number } {
  const all = Array.from({ length: Math.floor(topHz / stepHz) }, (_, k) => (k + 1) * stepHz);
  if (!rig.room) return { gains: roomPath(rig, all), exactToHz: topHz };
  const key = JSON.stringify([rig.room, stepHz, topHz]);
  let room = kept.get(key);
  for (let top = topHz; !room; top /= 2) room = trySum(rig.room, all, top);
  kept.delete(key);
  kept.set(key, room);
  if (kept.size > KEPT) kept.delete(kept.keys().next().value!);
  const delay = flightS(rig);
  const direct = { db: -20 * Math.log10(distanceOf(rig)), deg: 0 };
  const rest = all.slice(room.length).map((hz) => ({ ...direct, deg: -360 * hz * delay }));
  return { gains: [...room, ...rest], exactToHz: room.length * stepHz };
}

function trySum(room: Room, all: number[], topHz: number): Gain[] | undefined {
  try {
    return roomPath({ room }, all.slice(0, all.findLastIndex((hz) => hz <= topHz) + 1));
  } catch (error) {
    if (error instanceof BassloomError && error.code === 'too-many-modes' && topHz > 100) return undefined;
    throw error;
  }
}
