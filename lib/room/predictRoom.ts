import type { Interval } from '../model/curve';
import type { RoomPrediction } from '../model/findings';
import { modeCount } from './modeCount';
import { predictTransfer } from './predictTransfer';
import type { Room } from './room';
import { schroederFrequency } from './schroederFrequency';

const POINTS_PER_OCTAVE = 48;

/**
 * Predict what a room alone does between source and microphone, as a finding.
 *
 * @param room with both positions.
 * @param options `name`: what people call the room; `rangeHz`: default 10 to 250 Hz.
 * @returns 48 points an octave; the Schroeder frequency and the count of modes below it, null where the room's
 * reverberation time is not known.
 * @throws BassloomError as {@link predictTransfer}.
 *
 * @example
 * const room: Room = { lengthM: 6, widthM: 4.5, heightM: 2.5, source: [0.5, 1, 0.3], microphone: [4, 2.5, 1.1] };
 * predictRoom(room, { name: 'the big room' }).levelDb
 */
export function predictRoom(room: Room, options: { name?: string; rangeHz?: Interval } = {}): RoomPrediction {
  const [lowHz, highHz] = options.rangeHz ?? [10, 250];
  const steps = Math.max(1, Math.ceil(Math.log2(highHz / lowHz) * POINTS_PER_OCTAVE));
  const frequencyHz = Array.from({ length: steps + 1 }, (_, i) => lowHz * (highHz / lowHz) ** (i / steps));
  const { levelDb } = predictTransfer(room, frequencyHz);
  const schroederHz = room.decayS === undefined ? null : schroederFrequency(room);
  return {
    room: options.name ?? `${room.lengthM} x ${room.widthM} x ${room.heightM} m`,
    frequencyHz,
    levelDb,
    schroederHz,
    modesBelowSchroeder: schroederHz === null ? null : Math.round(modeCount(room, schroederHz)),
  };
}
