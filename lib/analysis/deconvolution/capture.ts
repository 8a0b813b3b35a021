import { decodeWav } from '../../import/decodeWav';
import type { Recording } from '../../model/curve';
import { BassloomError } from '../../model/errors';

/** Samples of one channel of a recording. */
export interface Channel {
  label: string;
  samples: Float32Array | Float64Array;
  sampleRateHz: number;
  seconds: number;
}

/** Memory grows with it. */
const LONGEST_S = 1200;
const SHORTEST_S = 0.25;

/**
 * Decode one channel of a recording.
 *
 * @throws BassloomError `no-such-channel`, `capture-too-long`, `capture-too-short`, and those of `decodeWav`.
 */
export function readChannel(recording: Recording, channel: number): Channel {
  const { label, seconds } = recording;
  if (seconds > LONGEST_S) {
    refuse(
      'capture-too-long',
      `${label}: it lasts ${Math.round(seconds)} s; cut it to the sweep and some seconds around it.`,
    );
  }
  const { channels, sampleRateHz } = decodeWav(recording);
  const samples = channels[channel - 1];
  if (!samples) {
    const range = channels.length === 1 ? 'it has only channel 1' : `give 1 to ${channels.length}`;
    refuse('no-such-channel', `${label}: there is no channel ${channel}; ${range}.`, 'channel');
  }
  if (samples.length < SHORTEST_S * sampleRateHz) {
    refuse('capture-too-short', `${label}: ${samples.length} samples are too few to hold anything of a sweep.`);
  }
  return { label, samples, sampleRateHz, seconds: samples.length / sampleRateHz };
}

function refuse(code: string, message: string, field = 'capture'): never {
  throw new BassloomError(code, message, { field });
}
