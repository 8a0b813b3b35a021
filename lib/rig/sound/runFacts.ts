import { makeRefusal } from '../../words/makeRefusal';
import { asNumbered } from '../../words/numbered';
import type { Run } from '../bench';
import { heatLoss } from '../limiterLoss';
import { randomFrom } from '../random';
import { runScatter } from '../runScatter';
import { humLines } from './backgroundNoise';
import type { SoundRigSpec } from './soundRigSpec';

const DEFAULT_FULL_SCALE_DB = 120;
/** Of a tone that plays at the unit's sensitivity, dBFS. */
const REFERENCE_DBFS = -12;

/** Full scale of the recorder as it was set up, before its input is turned up, dB re 20 uPa. */
export function fullScaleOf({ recorder }: SoundRigSpec): number {
  return recorder?.fullScaleDb ?? DEFAULT_FULL_SCALE_DB;
}

/** @throws BassloomError `unknown-setting`. */
export function settingOf(rig: SoundRigSpec, name: string): SoundRigSpec['settings'][number] {
  const found = rig.settings.find((candidate) => candidate.name === name);
  if (found) return found;
  const known = asNumbered({ known: rig.settings.map((candidate) => candidate.name) });
  throw makeRefusal('unknown-setting', { setting: name, ...known }, { field: 'setting' });
}

/** True drive above the lowest rung, dB. */
export function trueDriveDb({ drive }: SoundRigSpec, { driveDb }: Run): number {
  return (driveDb * drive.trueStepDb) / drive.commandedStepDb;
}

/** Level at 1 m, well inside the pass band and before any limit, of a tone whose peak is digital full scale, dB. */
export function playLevelDb(rig: SoundRigSpec, run: Run): number {
  const drive = trueDriveDb(rig, run);
  const reference = rig.referenceDbfs ?? REFERENCE_DBFS;
  return rig.unit.sensitivityDb + drive - heatLoss(drive, rig.unit.heatDriveDb) - reference;
}

/** What this run is off by, dB by Hz. */
export function runScatterOf(rig: SoundRigSpec, { setting, driveDb, take = 0 }: Run): (hz: number) => number {
  return runScatter(rig.scatter, randomFrom([rig.seed, 'run', setting, driveDb, take]));
}

/** All hum at the recorder's input before it is turned up, dB re a full-scale sine. */
export function recordedHum(rig: SoundRigSpec): { frequencyHz: number; levelDb: number }[] {
  const fullScale = fullScaleOf(rig);
  const heard = humLines(rig).map(({ frequencyHz, levelDb }) => ({ frequencyHz, levelDb: levelDb - fullScale }));
  return [...heard, ...(rig.recorder?.hum ?? [])];
}
