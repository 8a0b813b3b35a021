import type { Recording } from '../model/curve';
import { makeRefusal } from '../words/makeRefusal';
import { layOutWav, type WavLayout } from './layOutWav';
import { makeRecording } from './makeRecording';
import { wavHeader } from './wavHeader';

/**
 * Keep one channel of a recording.
 *
 * @param recording any number of channels. @param channel which one, the first being 1.
 * @returns a recording of that channel alone, its samples byte for byte as they were; the recording itself where it
 * has no other channel.
 * @throws BassloomError `no-such-channel`, and those of `decodeWav` but `wav-not-finite`.
 *
 * @example
 * const microphone = chooseChannel(recording, 2);
 */
export function chooseChannel(recording: Recording, channel: number): Recording {
  const layout = layOutWav(recording.wav, recording.label);
  if (!(Number.isInteger(channel) && channel >= 1 && channel <= layout.channels)) {
    const values = { label: recording.label, channel, channels: layout.channels };
    throw makeRefusal('no-such-channel', values, { field: 'channel' });
  }
  if (layout.channels === 1) return recording;
  return makeRecording(cut(recording.wav, layout, channel), {
    ...recording,
    label: `${recording.label}, channel ${channel}`,
    steps: [...recording.steps, { did: 'choose channel', with: { channel, of: layout.channels } }],
  });
}

function cut(wav: Uint8Array, layout: WavLayout, channel: number): Uint8Array {
  const { bytesPerSample, bytesPerFrame, frames } = layout;
  const head = wavHeader({ ...layout, channels: 1 }, frames);
  const dataBytes = frames * bytesPerSample;
  const out = Buffer.alloc(head.length + dataBytes + (dataBytes % 2));
  out.set(head);
  let to = head.length;
  const first = layout.start + (channel - 1) * bytesPerSample;
  for (let frame = 0; frame < frames; frame++) {
    const from = first + frame * bytesPerFrame;
    for (let i = 0; i < bytesPerSample; i++) out[to++] = wav[from + i];
  }
  return out;
}
