import { demoRig } from '../demoRig';
import { SWEEP_NOISE_DB } from './backgroundNoise';
import type { SoundRigSpec } from './soundRigSpec';

/**
 * The demo's bench with everything that only sound shows. Everything in it is invented.
 *
 * @returns plain JSON.
 *
 * Notes: the unit, room and microphone of `demoRig`, and so much noise that a sweep of 20 s shows about what that one has. A protective limiter holds the bottom back from about the
 * sixth rung on and the amplifier runs out at the last; harmonics rise toward the limit of the excursion. A perfect
 * recorder, but for 24 bits and 12 ms of latency, takes 125 dB.
 *
 * @example
 * playRig(demoSoundRig(), sweep, { setting: 'shelf-flat', driveDb: 12 }).capture
 */
export function demoSoundRig(): SoundRigSpec {
  const { noise, ...rig } = demoRig();
  return {
    ...rig,
    noise: { ...noise!, at20HzDb: noise!.at20HzDb - SWEEP_NOISE_DB },
    nonlinearity: { excursionAt20HzDb: 92, coefficients: [0.03, -0.07, 0.012, -0.02], stopAt: 1.6 },
    soundLimiter: {
      crossoverHz: 34,
      bottom: { excursionAt20HzDb: 90, kneeDb: 3, attackS: 0.03, releaseS: 0.25 },
      top: { amplifierDb: 98, kneeDb: 6, slope: 0.1, attackS: 0.02, releaseS: 0.2 },
    },
    recorder: { bits: 24, fullScaleDb: 125, latencyMs: 12 },
  };
}
