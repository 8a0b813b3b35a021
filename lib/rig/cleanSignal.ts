import { predictTransfer } from '../room/predictTransfer';
import { heatLoss, limiterLoss } from './limiterLoss';
import type { Equaliser, RigSpec } from './rigSpec';
import { unitResponse } from './unitResponse';

/** What stands at the microphone before any error, scatter or noise. */
export interface CleanSignal {
  frequencyHz: number[];
  /** With all limits; true drive in dB above the lowest rung. */
  levelDb(equaliser: Equaliser, trueDriveDb: number): number[];
  /** The same unit if it had no limits at all. */
  linearDb(equaliser: Equaliser, trueDriveDb: number): number[];
  /** Of the linear unit and the path. */
  phaseDeg(equaliser: Equaliser): number[];
  /** The path alone, re free field at 1 m. */
  pathDb: number[];
}

/**
 * Reckon the noise-free signal of a rig at given frequencies.
 *
 * @param rig the bench. @param frequencyHz rising, Hz.
 * @returns levels in dB re 20 uPa by equaliser and true drive; the room is reckoned once.
 *
 * Notes: unit (linear), heat, limiter at 1 m, then the path to the microphone: the modal sum of the room, or the
 * inverse-distance law in free field.
 *
 * @example
 * const clean = cleanSignal(drawRig(1), [20, 40, 80]);
 * clean.levelDb({ kind: 'flat' }, 0);
 */
export function cleanSignal(rig: Pick<RigSpec, 'unit' | 'room' | 'distanceM'>, frequencyHz: number[]): CleanSignal {
  const { unit } = rig;
  const path = pathTo(rig, frequencyHz);
  const atOneMetre = (equaliser: Equaliser, hz: number) => unit.sensitivityDb + unitResponse(unit, equaliser, hz).db;
  return {
    frequencyHz,
    pathDb: path.levelDb,
    linearDb: (equaliser, trueDriveDb) =>
      frequencyHz.map((hz, i) => atOneMetre(equaliser, hz) + trueDriveDb + path.levelDb[i]),
    levelDb: (equaliser, trueDriveDb) => {
      const warmDriveDb = trueDriveDb - heatLoss(trueDriveDb, unit.heatDriveDb);
      return frequencyHz.map((hz, i) => {
        const wanted = atOneMetre(equaliser, hz) + warmDriveDb;
        return wanted - limiterLoss(unit.limiter, hz, wanted) + path.levelDb[i];
      });
    },
    phaseDeg: (equaliser) => frequencyHz.map((hz, i) => wrap(unitResponse(unit, equaliser, hz).deg + path.phaseDeg[i])),
  };
}

const SOUND_SPEED = 343;

function pathTo({ room, distanceM = 1 }: Pick<RigSpec, 'room' | 'distanceM'>, frequencyHz: number[]) {
  if (room) return predictTransfer(room, frequencyHz);
  return {
    levelDb: frequencyHz.map(() => -20 * Math.log10(distanceM)),
    phaseDeg: frequencyHz.map((hz) => (-360 * hz * distanceM) / SOUND_SPEED),
  };
}

function wrap(deg: number): number {
  return deg - 360 * Math.round(deg / 360);
}
