import { drawRig } from '../drawRig';
import { type Random, randomFrom } from '../random';
import { SWEEP_NOISE_DB } from './backgroundNoise';
import { excursionGain } from './driverParts';
import type { NonlinearitySpec, RecorderSpec, SoundLimiterSpec, SoundRigSpec } from './soundRigSpec';

/**
 * Draw a virtual bench for sound by chance: that of `drawRig` with nonlinearity, limiter and recorder.
 *
 * @param seed whole number from 0; the same seed gives the same rig.
 * @param overrides parts of the rig to be set instead of drawn.
 * @returns plain JSON. Its recorder takes the loudest rung without clipping and the whole of a stimulus; faults are
 * for the caller to add.
 *
 * @example
 * drawSoundRig(7, { noise: undefined }).recorder?.latencyMs
 */
export function drawSoundRig(seed: number, overrides: Partial<SoundRigSpec> = {}): SoundRigSpec {
  const stream = (part: string) => randomFrom([seed, 'sound rig', part]);
  const rig = drawRig(seed, overrides);
  const { unit, drive } = rig;
  const topDb = unit.sensitivityDb + (drive.rungs - 1) * drive.trueStepDb;
  const topAt20HzDb = topDb + excursionGain(unit, 20).db + 40 * Math.log10(20 / unit.highPass[0].f0Hz);
  const limits = stream('limiter');
  const isLimited = limits.uniform() < 0.6;
  const nonlinearity = drawNonlinearity(topAt20HzDb - limits.between(-3, isLimited ? 8 : 3), stream('nonlinearity'));
  const { noise } = rig;
  return {
    ...rig,
    noise: noise && { ...noise, at20HzDb: noise.at20HzDb - SWEEP_NOISE_DB },
    nonlinearity,
    ...(isLimited && { soundLimiter: drawLimiter(nonlinearity.excursionAt20HzDb, topDb, limits) }),
    recorder: drawRecorder(topDb, stream('recorder')),
    ...overrides,
  };
}

function drawNonlinearity(excursionAt20HzDb: number, random: Random): NonlinearitySpec {
  const even = () => random.pick([-1, 1]);
  const coefficients = [
    even() * random.between(0.01, 0.06),
    random.between(-0.08, -0.01),
    even() * random.between(0, 0.02),
    random.between(-0.012, 0.004),
  ];
  return { excursionAt20HzDb, coefficients, stopAt: random.between(1.3, 1.6) };
}

function drawLimiter(excursionAt20HzDb: number, topDb: number, random: Random): SoundLimiterSpec {
  const band = () => ({
    kneeDb: random.between(1, 8),
    slope: random.pick([0, 0, random.between(0, 0.2)]),
    attackS: random.between(0.005, 0.06),
    releaseS: random.between(0.1, 0.4),
  });
  return {
    crossoverHz: random.between(22, 45),
    bottom: { ...band(), excursionAt20HzDb: excursionAt20HzDb - random.between(-1, 4) },
    top: { ...band(), amplifierDb: topDb - random.between(-4, 6) },
  };
}

/** What a room adds to the level at 1 m at its loudest mode, and the peaks of noise, dB. */
const ROOM_DB = 20;

function drawRecorder(topDb: number, random: Random): RecorderSpec {
  return {
    bits: random.pick([16, 24, 24, 32]),
    fullScaleDb: Math.ceil(topDb + ROOM_DB + random.between(0, 6)),
    latencyMs: random.between(0, 60),
    clockPpm: random.pick([0, 0, 1]) * random.between(-60, 60),
  };
}
