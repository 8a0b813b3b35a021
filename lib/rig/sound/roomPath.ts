import { predictTransfer } from '../../room/predictTransfer';
import { speedOfSound } from '../../room/speedOfSound';
import type { Gain } from '../unitResponse';
import { complexOf, gainOf } from './complex';
import { stepsUpTo } from './filterBank';
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

/** Up to here the room is heard; it fades out to the direct sound alone at the second. Lower in large rooms, whose modes are more. */
const ROOM_HZ = [1000, 1200];
const LARGE_M3 = 100;

/**
 * What lies between source and microphone: the room by its modal sum, or free field.
 *
 * @param rig its room, or its distance. @param frequencyHz Hz, above 0.
 * @returns level and phase at each, re free field at 1 m; phase with the time of flight.
 *
 * Notes: above 1 kHz, where a subwoofer hardly plays and the sum gets slow, the direct sound is left alone; in rooms of
 * more than 100 m3 from a lower frequency on, by the cube root of the volume.
 */
export function roomPath(rig: Placed, frequencyHz: number[]): Gain[] {
  const direct = directSound(rig, frequencyHz);
  const { room } = rig;
  if (!room) return direct;
  const lower = Math.min(1, Math.cbrt(LARGE_M3 / (room.lengthM * room.widthM * room.heightM)));
  const [fullHz, noneHz] = ROOM_HZ.map((hz) => hz * lower);
  const shares = frequencyHz.map((hz) => riseOf((noneHz - hz) / (noneHz - fullHz)));
  const heard = predictTransfer(
    room,
    frequencyHz.filter((_, i) => shares[i] > 0),
  );
  let next = 0;
  return shares.map((share, i) => {
    if (share === 0) return direct[i];
    const modes = { db: heard.levelDb[next], deg: heard.phaseDeg[next] };
    next++;
    return share === 1 ? modes : mixed(modes, share, direct[i]);
  });
}

/** The same at 1, 2, 3 ... times a step, up to a top frequency; what was reckoned for the last rooms is kept. */
export function pathOnGrid(rig: Placed, stepHz: number, topHz: number): Gain[] {
  const key = JSON.stringify([rig.room ?? rig.distanceM, stepHz, topHz]);
  const path = kept.get(key) ?? roomPath(rig, stepsUpTo(stepHz, topHz));
  kept.delete(key);
  kept.set(key, path);
  if (kept.size > KEPT) kept.delete(kept.keys().next().value!);
  return path;
}

function directSound(rig: Placed, frequencyHz: number[]): Gain[] {
  const [db, delay] = [-20 * Math.log10(distanceOf(rig)), flightS(rig)];
  return frequencyHz.map((hz) => ({ db, deg: -360 * hz * delay }));
}

function mixed(a: Gain, share: number, b: Gain): Gain {
  const [[re, im], [otherRe, otherIm]] = [complexOf(a), complexOf(b)];
  return gainOf([share * re + (1 - share) * otherRe, share * im + (1 - share) * otherIm]);
}

/** Rising half of a Hann window over 0 to 1. */
function riseOf(part: number): number {
  return (1 - Math.cos(Math.PI * Math.min(1, Math.max(0, part)))) / 2;
}
