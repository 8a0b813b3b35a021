import { createHash } from 'node:crypto';
import type { Recording } from '../model/curve';
import { layOutWav, type WavLayout } from './layOutWav';

export type RecordingParts = Partial<Pick<Recording, 'role' | 'label' | 'about' | 'steps'>>;

/**
 * Make a recording of the bytes of a WAV file and give it its id, a hash of the bytes.
 *
 * @param wav the file; shared with the recording, not copied. @param parts what else is known of it.
 * @throws BassloomError `bad-source`, `not-wav`, `wav-unsupported`, `wav-broken`, `wav-empty`.
 *
 * @example
 * makeRecording(writeWav({ sampleRateHz: 48000, channels: [samples] }), { role: 'stimulus', label: 'sweep' });
 */
export function makeRecording(wav: Uint8Array, parts: RecordingParts = {}): Recording {
  return recordingOf(layOutWav(wav, parts.label), parts);
}

/** The same, where the bytes have been looked at. */
export function recordingOf(layout: WavLayout, parts: RecordingParts): Recording {
  const { buffer, byteOffset, byteLength } = layout.view;
  // a Buffer, since Node-RED passes those on without copying them
  const wav = Buffer.from(buffer as ArrayBuffer, byteOffset, byteLength);
  return {
    kind: 'recording',
    role: parts.role ?? 'capture',
    id: createHash('sha256').update(wav).digest('hex').slice(0, 16),
    label: parts.label ?? 'recording',
    wav,
    sampleRateHz: layout.sampleRateHz,
    channels: layout.channels,
    seconds: layout.frames / layout.sampleRateHz,
    about: parts.about ?? {},
    steps: parts.steps ?? [],
  };
}
