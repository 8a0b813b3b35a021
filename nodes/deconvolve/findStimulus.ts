import { readFile, stat } from 'node:fs/promises';
import type { SweepSpec } from '../../lib';
import { inFile } from '../../lib/model/caveat';
import type { Recording } from '../../lib/model/curve';
import { BassloomError } from '../../lib/model/errors';
import { makeCaveat } from '../../lib/words/makeCaveat';
import type { Work } from '../define';
import { pathToRead } from '../paths';
import { isMeasurement } from '../payload';
import type { Bench, Found, Stimulus } from './bench';
import type { fields } from './fields';

type OwnWork = Work<typeof fields, Bench>;

/**
 * Find what was played: the file or the sweep of the dialog, else what the message brings, else what an earlier one
 * brought.
 *
 * @param inPayload stimuli among the measurements.
 * @returns undefined where there is none.
 * @throws BassloomError `several-stimuli`, `no-such-file`, `not-stimulus`, and for a WAV as `readWav` does.
 */
export async function findStimulus(work: OwnWork, inPayload: Recording[]): Promise<Found | undefined> {
  const { settings, message, memory, lib } = work;
  const { source, stimulusFile, startHz, endHz, seconds, levelDbfs, sampleRateHz } = settings;
  const brought = one(inPayload) ?? inMessage(lib, memory, message.stimulus);
  const before = memory.stimulus;
  if (brought) memory.stimulus = brought;
  if (source === 'sweep') return { stimulus: { startHz, endHz, seconds, levelDbfs, sampleRateHz }, notes: [] };
  if (source === 'file' && stimulusFile) return readStimulus(work, stimulusFile);
  if (brought) return { stimulus: brought, notes: [] };
  if (!before) return undefined;
  const called = 'label' in before ? before.label : `sweep ${before.startHz}-${before.endHz} Hz`;
  return { stimulus: before, notes: [makeCaveat('earlier-stimulus', 'remark', { stimulus: called })] };
}

function one(stimuli: Recording[]): Recording | undefined {
  const different = new Map(stimuli.map((stimulus) => [stimulus.id, stimulus]));
  if (different.size > 1) {
    const names = [...different.values()].map(({ label }) => label).join(', ');
    const what = `msg.payload holds ${different.size} stimuli (${names}); one is needed: send captures apart by what was played.`;
    throw new BassloomError('several-stimuli', what, { field: 'payload' });
  }
  return stimuli[0];
}

function inMessage(lib: OwnWork['lib'], memory: Bench, stimulus: unknown): Stimulus | undefined {
  if (stimulus === undefined || stimulus === null || stimulus === '') return undefined;
  if (stimulus instanceof Uint8Array) {
    const known =
      memory.read.get(stimulus) ?? lib.readWav(stimulus, { name: 'stimulus.wav', role: 'stimulus' }).recording;
    memory.read.set(stimulus, known);
    return known;
  }
  if (isMeasurement(stimulus) && (stimulus as Recording).kind === 'recording') {
    return lib.checkMeasurement(stimulus, 'msg.stimulus') as Recording;
  }
  const { startHz, endHz, seconds } = stimulus as Partial<SweepSpec>;
  if ([startHz, endHz, seconds].every((value) => typeof value === 'number')) {
    return { ...(stimulus as SweepSpec), sampleRateHz: (stimulus as Partial<SweepSpec>).sampleRateHz ?? 48000 };
  }
  const what = 'msg.stimulus is not a recording, a WAV file in a Buffer or a sweep ({ startHz, endHz, seconds, ... }).';
  throw new BassloomError('not-stimulus', what, { field: 'stimulus' });
}

/** A file is read again only when it has changed. */
async function readStimulus({ lib, RED, memory }: OwnWork, file: string): Promise<Found> {
  const path = pathToRead(RED, file);
  const { mtimeMs, size } = await stat(path).catch((cause) => {
    throw new BassloomError('no-such-file', `There is no file "${path}" to read the stimulus from.`, {
      field: 'stimulusFile',
      cause,
    });
  });
  const state = `${path} ${mtimeMs} ${size}`;
  if (memory.file?.state !== state) {
    const { recording, notes } = lib.readWav(await readFile(path), { name: path, role: 'stimulus' });
    memory.file = { state, found: { stimulus: recording, notes: inFile(recording.label, notes) } };
  }
  return memory.file.found;
}
