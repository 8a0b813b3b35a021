import { writeWav } from '../../wav/writeWav';
import { makeRefusal } from '../../words/makeRefusal';
import type { RecorderSpec } from './soundRigSpec';

const FORMATS = { 16: 'pcm16', 24: 'pcm24', 32: 'float32' } as const;

/** How many samples were clipped, and where that began. */
export interface Clipped {
  samples: number;
  atIndex: number | null;
}

/**
 * Turn what stands at the recorder's input into a WAV file: clip, round, and make it quieter where that is wanted.
 *
 * @param samples at the input, full scale = 1. @param sampleRateHz whole Hz. @param recorder bits, rail, attenuation.
 * @returns the file, and the samples that stand at the rail: those that the rail cut, or that round to it.
 *
 * Notes: two's complement: the highest step is one below the lowest. The attenuation comes after the rounding, and
 * what it makes is rounded again. No dither.
 */
export function digitise(
  samples: Float64Array,
  sampleRateHz: number,
  { bits = 24, railDbfs = 0, attenuationDb = 0, channels = 1 }: RecorderSpec,
): { wav: Uint8Array; clipped: Clipped } {
  if (!(bits in FORMATS)) refuse('bits', bits);
  if (!(railDbfs <= 0)) refuse('railDbfs', railDbfs);
  if (!(Number.isInteger(channels) && channels >= 1 && channels <= 8)) {
    refuse('channels', channels);
  }
  const steps = bits === 32 ? 0 : 2 ** (bits - 1);
  const rail = 10 ** (railDbfs / 20);
  const highest = steps ? Math.min(Math.round(rail * steps), steps - 1) : rail;
  const lowest = steps ? -Math.round(rail * steps) : -rail;
  const scale = 10 ** (-attenuationDb / 20) / (steps || 1);
  const clipped: Clipped = { samples: 0, atIndex: null };
  const out = samples.map((sample, n) => {
    const step = steps ? Math.round(sample * steps) : sample;
    if (step < highest && step > lowest) return step * scale;
    clipped.samples++;
    clipped.atIndex ??= n;
    return (step > 0 ? highest : lowest) * scale;
  });
  const silent = new Float64Array(channels > 1 ? samples.length : 0);
  const columns = Array.from({ length: channels }, (_, channel) => (channel ? silent : out));
  return { wav: writeWav({ sampleRateHz, channels: columns }, { format: FORMATS[bits] }), clipped };
}

function refuse(option: 'bits' | 'railDbfs' | 'channels', value: number): never {
  throw makeRefusal('recorder-option', { option, value }, { field: option });
}
