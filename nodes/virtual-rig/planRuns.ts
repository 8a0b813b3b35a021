import type { Run, SoundRigSpec } from '../../lib';
import type { Measurement, Recording } from '../../lib/model/curve';
import { BassloomError } from '../../lib/model/errors';
import type { Library } from '../define';
import type { Values } from '../fields';
import type { fields } from './fields';

/** One sound to be played, and how. */
export interface Play {
  stimulus: Recording;
  run: Run;
}

/** A minute or two of work. */
const MOST_RUNS = 200;

/**
 * What is to be played: each stimulus and programme at each position and drive, silence once.
 *
 * @throws BassloomError `nothing-to-play`, `too-many-runs`, `unknown-setting`.
 */
export function planRuns(
  lib: Library,
  rig: SoundRigSpec,
  measurements: Measurement[],
  settings: Values<typeof fields>,
): Play[] {
  const sounds = measurements.filter((one): one is Recording => one.kind === 'recording' && isToPlay(one));
  if (sounds.length === 0) {
    const what = 'msg.payload holds no stimulus and no programme; send what the sweep or tone burst node makes.';
    throw new BassloomError('nothing-to-play', what, { field: 'payload' });
  }
  const silences = sounds.filter((sound) => isSilence(lib, sound));
  const loud = sounds.filter((sound) => !isSilence(lib, sound));
  if (settings.muted && silences.length === 0) silences.push(silenceLike(lib, loud[0]));
  const names = settingsOf(rig, settings.setting);
  const runs = names.flatMap((setting) =>
    drives(settings).flatMap((driveDb) =>
      Array.from({ length: settings.takes }, (_, take) => ({ setting, driveDb, take })),
    ),
  );
  const plays = [
    ...silences.map((stimulus) => ({ stimulus, run: { setting: names[0], driveDb: 0 } })),
    ...loud.flatMap((stimulus) => runs.map((run) => ({ stimulus, run }))),
  ];
  if (plays.length <= MOST_RUNS) return plays;
  throw new BassloomError('too-many-runs', `That would be ${plays.length} recordings; up to ${MOST_RUNS} are made.`, {
    field: 'steps',
  });
}

function isToPlay({ role }: Recording): boolean {
  return role === 'stimulus' || role === 'programme';
}

function isSilence(lib: Library, { label, steps }: Recording): boolean {
  return steps.some(({ did }) => did === 'make muted sweep') || lib.isNoiseName(label, { played: true });
}

function silenceLike(lib: Library, { sampleRateHz, seconds }: Recording): Recording {
  const samples = new Float32Array(Math.round(seconds * sampleRateHz));
  const wav = lib.writeWav({ sampleRateHz, channels: [samples] }, { format: 'pcm16' });
  return lib.makeRecording(wav, { role: 'stimulus', label: 'silence' });
}

function settingsOf({ settings }: SoundRigSpec, wanted: string | undefined): string[] {
  const known = settings.map(({ name }) => name);
  if (wanted === undefined) return known.slice(0, 1);
  if (wanted.trim() === '*') return known;
  const names = wanted.split(/[;,]/).map((name) => name.trim());
  const strange = names.find((name) => !known.includes(name));
  if (strange === undefined) return names;
  throw new BassloomError('unknown-setting', `The rig has no setting '${strange}'; it has ${known.join(', ')}.`, {
    field: 'setting',
  });
}

function drives({ driveDb, steps, stepDb }: Values<typeof fields>): number[] {
  return driveDb === undefined ? Array.from({ length: steps }, (_, step) => step * stepDb) : [driveDb];
}
