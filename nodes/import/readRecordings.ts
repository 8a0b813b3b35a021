import { basename } from 'node:path';
import { type Caveat, inFile } from '../../lib/model/caveat';
import type { Recording } from '../../lib/model/curve';
import { BassloomError } from '../../lib/model/errors';
import { makeCaveat } from '../../lib/words/makeCaveat';
import type { Library } from '../define';
import type { Values } from '../fields';
import type { fields } from './fields';
import { isStimulusName, stamp } from './whatIsKnown';

type Settings = Values<typeof fields>;

/**
 * Read the recordings in one WAV file: as many as are wanted of its channels, but a stimulus as it is.
 *
 * @returns a noise run is a capture whose label begins with 'noise'. What the name of a file says of unit, setting and
 * drive goes for captures only, and not for what is a noise run or of a calibrator by its name.
 * @throws BassloomError those of `readWav` and `chooseChannel`, and `not-text` where text is wanted.
 */
export function readRecordings(
  lib: Library,
  wav: Uint8Array,
  name: string | undefined,
  settings: Settings,
): { recordings: Recording[]; notes: Caveat[] } {
  if (settings.role === 'correction') {
    const what = `${name ? basename(name) : 'msg.payload'} is a WAV file; a microphone correction is text.`;
    throw new BassloomError('not-text', what, { field: 'role' });
  }
  const role = settings.recordingRole ?? (isStimulusName(name) ? 'stimulus' : 'capture');
  const isCapture = role === 'capture';
  const isNamedNoise = !settings.role && lib.isNoiseName(name ?? '');
  const isNoise = isCapture && (settings.role === 'noise' || isNamedNoise);
  const isRun = isCapture && !isNoise && !lib.isCalibratorName(name ?? '');
  const { namePattern, stepDb } = settings;
  const saysRun = isRun || (isNoise && !isNamedNoise);
  const read = lib.readWav(wav, { name, role, ...(saysRun && { namePattern, stepDb }) });
  const label = isNoise && !lib.isNoiseName(read.recording.label) ? `noise, ${read.recording.label}` : undefined;
  const whole = stamp(label === undefined ? read.recording : { ...read.recording, label }, settings.procedure);
  const recordings = role === 'stimulus' ? [whole] : partsOf(lib, whole, settings, isRun);
  const hasMany = recordings.length === 1 && recordings[0].channels > 1;
  const many = hasMany ? [makeCaveat('several-channels', 'remark', { channels: recordings[0].channels })] : [];
  // its label may differ from the file's name
  return { recordings, notes: inFile(recordings[0].label, [...read.notes, ...many]) };
}

function partsOf(lib: Library, whole: Recording, { channels, channel }: Settings, isRun: boolean): Recording[] {
  if (channels === 'choose') return [lib.chooseChannel(whole, channel)];
  if (channels === 'keep' || whole.channels === 1) return [whole];
  const parts = lib.splitChannels(whole);
  return isRun ? parts.map(placeChannel) : parts;
}

/** Two channels of one run are two places, not two takes of it. */
function placeChannel(recording: Recording, index: number): Recording {
  const { position } = recording.about;
  const channel = `channel ${index + 1}`;
  return { ...recording, about: { ...recording.about, position: position ? `${position}, ${channel}` : channel } };
}
