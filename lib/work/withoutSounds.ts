import type { Measurement } from '../model/curve';

const NO_SOUND = new Uint8Array(0);

/** The same measurements without their sounds, for work that names recordings but does not listen to them. */
export function withoutSounds(measurements: Measurement[]): Measurement[] {
  return measurements.map((one) => (one.kind === 'recording' ? { ...one, wav: NO_SOUND } : one));
}
