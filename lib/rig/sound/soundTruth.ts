import type { Recording } from '../../model/curve';
import { thirdOctaveCentres } from '../../model/octaves';
import type { SweepSpec } from '../../signal/sweepPlan';
import type { Run } from '../bench';
import type { Equaliser } from '../rigSpec';
import { noiseBandDb } from './backgroundNoise';
import type { Clipped } from './digitise';
import { fullScaleOf, recordedHum, trueDriveDb } from './runFacts';
import type { SoundRigSpec } from './soundRigSpec';
import { type SweepLimits, sweepLimits } from './sweepLimits';
import type { Timeline } from './timeline';
import { type ToneOptions, type ToneTruth, toneTruth } from './toneTruth';

/** What is true of a recording; all but the functions is plain JSON. */
export interface SoundTruth {
  setting: string;
  /** As commanded, and as it really was, above the lowest rung, dB. */
  driveDb: number;
  trueDriveDb: number;
  /** Greatest sample of the stimulus as the level of a sine, which is that of a sweep throughout; null for silence. */
  toneDbfs: number | null;
  /** Sound pressure level of a full-scale sine in the file, with the input as it was turned and all attenuation, dB re 20 uPa. */
  fullScaleDb: number;
  /** Of player and recorder, of the direct sound through the air, and of the recorder's start, ms. */
  latencyMs: number;
  flightMs: number;
  startMs: number;
  /** When the direct sound of the stimulus's first sample arrives in the recording: latency + flight - start, ms of true time. The unit's own group delay is not in it. */
  delayMs: number;
  clockPpm: number;
  clippedSamples: number;
  clippedAtIndex: number | null;
  /** dB re a full-scale sine in the file. */
  hum: { frequencyHz: number; levelDb: number }[];
  /** Noise without hum in third-octave bands, as read by the microphone: dB re a full-scale sine in the file; null where there is none. */
  noise: { bandsHz: number[]; levelDb: number[] } | null;
  /** A steady tone, also where it is another one than the stimulus's; with `sweep`, the tone as that sweep passes it. */
  tone(frequencyHz: number[], options?: ToneOptions & { toneDbfs?: number }): ToneTruth;
  /** Frequency that a sweep had reached when the recording began and when it ended; null where that end was caught. */
  sweep(spec: SweepSpec): SweepLimits;
}

/** Everything that the truth rests on. */
export interface TruthParts {
  rig: SoundRigSpec;
  run: Run;
  equaliser: Equaliser;
  time: Timeline;
  clipped: Clipped;
  /** -Infinity for silence. */
  toneDbfs: number;
  stimulus: Pick<Recording, 'seconds'>;
}

/**
 * Reckon what is true of a recording, from closed forms and not from its samples.
 *
 * Notes: `clippedSamples` alone is counted while recording. Bands of the noise are those of 5 to 500 Hz.
 */
export function soundTruth(parts: TruthParts): SoundTruth {
  const { rig, run, time, clipped, toneDbfs } = parts;
  const { inputGainDb = 0, attenuationDb = 0, clockPpm = 0 } = rig.recorder ?? {};
  const turnedUpDb = inputGainDb - attenuationDb;
  const fullScaleDb = fullScaleOf(rig) - turnedUpDb;
  const [latencyMs, flightMs, startMs] = [time.latencyS * 1000, time.flightS * 1000, time.startS * 1000];
  const bandsHz = thirdOctaveCentres(5, 500);
  const noise = rig.noise && { bandsHz, levelDb: noiseBandDb(rig, bandsHz).map((level) => level - fullScaleDb) };
  return {
    setting: run.setting,
    driveDb: run.driveDb,
    trueDriveDb: trueDriveDb(rig, run),
    toneDbfs: Number.isFinite(toneDbfs) ? toneDbfs : null,
    fullScaleDb,
    latencyMs,
    flightMs,
    startMs,
    delayMs: latencyMs + flightMs - startMs,
    clockPpm,
    clippedSamples: clipped.samples,
    clippedAtIndex: clipped.atIndex,
    hum: recordedHum(rig).map((line) => ({ ...line, levelDb: line.levelDb + turnedUpDb })),
    noise: noise ?? null,
    tone: (frequencyHz, options = {}) =>
      toneTruth({ ...parts, toneDbfs: options.toneDbfs ?? toneDbfs, fullScaleDb }, frequencyHz, options),
    sweep: (spec) => sweepLimits(time, spec),
  };
}
