import type { MicrophoneSpec } from './rigSpec';

/**
 * What the microphone adds to every level.
 *
 * @param microphone its low end and its waves, or undefined for a perfect one.
 * @param hz frequency, Hz.
 * @returns dB to be added to the true level.
 *
 * @example
 * microphoneErrorDb({ lowEndHz: 5, waves: [], correctionPointsPerOctave: 6 }, 5) // -3.01
 */
export function microphoneErrorDb(microphone: MicrophoneSpec | undefined, hz: number): number {
  if (!microphone) return 0;
  const lowEnd = -10 * Math.log10(1 + (microphone.lowEndHz / hz) ** 2);
  return microphone.waves.reduce((sum, wave) => sum + waveDb(wave, hz), lowEnd);
}

/** What the correction file says at a frequency: the error but for what the file fails to know. */
export function correctionFileDb(microphone: MicrophoneSpec, hz: number): number {
  return microphoneErrorDb(microphone, hz) - (microphone.residual ? waveDb(microphone.residual, hz) : 0);
}

/** A smooth wave over log frequency. */
export function waveDb(wave: { db: number; octaves: number; phase: number }, hz: number): number {
  return wave.db * Math.sin((2 * Math.PI * Math.log2(hz / 20)) / wave.octaves + wave.phase);
}
