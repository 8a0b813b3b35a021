import { thirdOctaveCentres } from '../model/octaves';
import { cleanSignal } from './cleanSignal';
import { noiseFloorDb } from './noiseFloor';
import type { RigSpec } from './rigSpec';

/** True third-octave band levels of one setting: power means over each band, at the microphone, without noise. */
export interface BandTruth {
  setting: string;
  /** Exact base-10 third-octave centres, Hz. */
  bandsHz: number[];
  /** True drive of each rung above the lowest, dB. */
  driveDb: number[];
  /** [rung][band], dB re 20 uPa. */
  levelDb: number[][];
  /** [rung][band]: what the same unit would give without any limit. */
  linearDb: number[][];
  /** [rung][band]: level over the expected noise; Infinity on a silent bench. */
  snrDb: number[][];
}

const INTERVALS = 64;

/**
 * Reckon the true band levels of every setting and rung.
 *
 * @param rig the bench.
 * @returns one table per setting, in the order of the rig's settings; bands lie wholly inside the rig's grid.
 *
 * Notes: trapezoids over 64 intervals in each band (1/192 octave), from the closed forms of the rig, not from its
 * grid: a grid too coarse for the room shows up as an error of the measurement, as it should.
 *
 * @example
 * bandTruth(drawRig(1))[0].levelDb[0]
 */
export function bandTruth(rig: RigSpec): BandTruth[] {
  const bandsHz = thirdOctaveCentres(rig.grid.startHz, rig.grid.endHz);
  const ratio = 10 ** (1 / (10 * INTERVALS));
  const lowHz = bandsHz.length ? bandsHz[0] * 10 ** -0.05 : 0;
  const points = bandsHz.length ? bandsHz.length * INTERVALS + 1 : 0;
  const frequencyHz = Array.from({ length: points }, (_, i) => lowHz * ratio ** i);
  const clean = cleanSignal(rig, frequencyHz);
  const inBands = (levelDb: number[]) => bandsHz.map((_, band) => meanDb(frequencyHz, levelDb, band * INTERVALS));
  const noiseDb = inBands(frequencyHz.map((hz) => noiseFloorDb(rig.noise, hz)));
  const driveDb = Array.from({ length: rig.drive.rungs }, (_, rung) => rung * rig.drive.trueStepDb);
  return rig.settings.map(({ name, equaliser }) => {
    const levelDb = driveDb.map((drive) => inBands(clean.levelDb(equaliser, drive)));
    return {
      setting: name,
      bandsHz,
      driveDb,
      levelDb,
      linearDb: driveDb.map((drive) => inBands(clean.linearDb(equaliser, drive))),
      snrDb: levelDb.map((row) => row.map((level, band) => level - noiseDb[band])),
    };
  });
}

function meanDb(frequencyHz: number[], levelDb: number[], from: number): number {
  let sum = 0;
  for (let i = from; i < from + INTERVALS; i++) {
    const power = 10 ** (levelDb[i] / 10) + 10 ** (levelDb[i + 1] / 10);
    sum += 0.5 * power * (frequencyHz[i + 1] - frequencyHz[i]);
  }
  return 10 * Math.log10(sum / (frequencyHz[from + INTERVALS] - frequencyHz[from]));
}
