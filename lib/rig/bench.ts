import type { About, Curve } from '../model/curve';
import { type CurveParts, makeCurve } from '../model/makeCurve';
import { makeRefusal } from '../words/makeRefusal';
import { asNumbered } from '../words/numbered';
import { addNoise } from './addNoise';
import { type CleanSignal, cleanSignal } from './cleanSignal';
import { gridFrequencies } from './gridFrequencies';
import { correctionFileDb, microphoneErrorDb } from './microphoneError';
import { noiseFloorDb } from './noiseFloor';
import { randomFrom } from './random';
import type { RigSpec } from './rigSpec';
import { runScatter } from './runScatter';

/** One press of the button. */
export interface Run {
  /** Name of the switch position. */
  setting: string;
  /** Commanded drive above the lowest rung, dB; any number, also between rungs. */
  driveDb: number;
  /** Another take of the same run is the same signal with other noise and scatter. Default 0. */
  take?: number;
}

/** A bench that has been set up: what does not change between runs has been reckoned once. */
export interface Bench {
  clean: CleanSignal;
  measure(run: Run): Curve;
  measureNoise(take?: number): Curve | undefined;
  correction(): Curve | undefined;
}

/**
 * Set up a virtual bench, ready to measure.
 *
 * @param rig what stands on it.
 * @returns the bench; every run depends on the rig and on the run only, not on what was measured before.
 *
 * Notes: in each bin a complex Gaussian noise is added to the complex signal, so that levels are what a real analyser
 * would show: too high on average where noise prevails. The microphone's error applies to signal and noise alike.
 *
 * @example
 * const bench = setUpBench(drawRig(1));
 * const curve = bench.measure({ setting: drawRig(1).settings[0].name, driveDb: 6 });
 */
export function setUpBench(rig: RigSpec): Bench {
  const frequencyHz = gridFrequencies(rig.grid);
  const clean = cleanSignal(rig, frequencyHz);
  const microphoneDb = frequencyHz.map((hz) => microphoneErrorDb(rig.microphone, hz));
  const noiseDb = frequencyHz.map((hz, i) => noiseFloorDb(rig.noise, hz) + microphoneDb[i]);
  const curve = (parts: Partial<CurveParts> & { levelDb: number[] }) =>
    makeCurve({ frequencyHz: [...frequencyHz], scale: 'spl', ...parts });
  return {
    clean,
    measure: ({ setting, driveDb, take = 0 }) => {
      const found = rig.settings.find((candidate) => candidate.name === setting);
      if (!found) {
        const known = asNumbered({ known: rig.settings.map((candidate) => candidate.name) });
        throw makeRefusal('unknown-setting', { setting, ...known }, { field: 'setting' });
      }
      const random = randomFrom([rig.seed, 'run', setting, driveDb, take]);
      const trueDriveDb = (driveDb * rig.drive.trueStepDb) / rig.drive.commandedStepDb;
      const scatterDb = runScatter(rig.scatter, random);
      const signalDb = clean
        .levelDb(found.equaliser, trueDriveDb)
        .map((level, i) => level + microphoneDb[i] + scatterDb(frequencyHz[i]));
      const about: About = { device: rig.unit.device, setting, driveDb };
      const label = `${rig.unit.device}, ${setting}, drive +${driveDb} dB`;
      return curve({ ...addNoise(signalDb, clean.phaseDeg(found.equaliser), noiseDb, random), about, label });
    },
    measureNoise: (take = 0) => {
      if (!rig.noise) return undefined;
      const random = randomFrom([rig.seed, 'noise', take]);
      const { levelDb } = addNoise(undefined, undefined, noiseDb, random);
      return curve({ levelDb, role: 'noise', label: 'noise', about: { device: rig.unit.device } });
    },
    correction: () => correctionFile(rig),
  };
}

/**
 * Measure one run of a rig.
 *
 * @param rig the bench. @param run which setting, how hard.
 * @returns the curve as the microphone reads it, uncorrected, dB re 20 uPa.
 * @throws BassloomError `unknown-setting`, `bad-grid`.
 *
 * @example
 * measure(demoRig(), { setting: 'shelf-flat', driveDb: 0 }).levelDb.length
 */
export function measure(rig: RigSpec, run: Run): Curve {
  return setUpBench(rig).measure(run);
}

function correctionFile(rig: RigSpec): Curve | undefined {
  const { microphone, grid } = rig;
  if (!microphone) return undefined;
  const frequencyHz = gridFrequencies({
    kind: 'log',
    startHz: Math.min(grid.startHz, 2),
    endHz: grid.endHz * 1.5,
    pointsPerOctave: microphone.correctionPointsPerOctave,
  });
  const levelDb = frequencyHz.map((hz) => correctionFileDb(microphone, hz));
  return makeCurve({ frequencyHz, levelDb, role: 'correction', label: 'microphone correction' });
}
