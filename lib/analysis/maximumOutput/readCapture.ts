import type { Curve, Recording } from '../../model/curve';
import { interpolate } from '../../model/interpolate';
import { decodeWav } from '../../wav/decodeWav';
import { layOutWav } from '../../wav/layOutWav';
import { makeRefusal } from '../../words/makeRefusal';
import { findClipping } from '../capture/findClipping';
import { alignCapture } from './alignCapture';
import { burstNoise } from './burstNoise';
import type { PlannedBurst } from './burstPlan';
import { type BurstReading, readBurst } from './readBurst';

/** One burst as it arrived, in dB. */
export interface MeasuredBurst {
  centreHz: number;
  /** Level it was played at, dBFS, with the run's drive added. */
  driveDb: number;
  /** Peak level at the microphone; null where the capture does not hold it. */
  microphoneDb: number | null;
  /** The same brought to 1 m, where that can be done. */
  levelDb: number | null;
  /** Fundamental over noise, dB; null where the noise is not known. */
  snrDb: number | null;
  /** From order 2, dB re the fundamental, noise included; empty where the capture does not hold the burst. */
  harmonicsDb: number[];
  /** The noise on the same scale; null where not known. */
  harmonicNoiseDb: (number | null)[];
  /** How much higher the fundamental's peak is than its spectrum says, dB: many where the room cancels it. */
  nullDb: number;
  clipped: boolean;
}

export interface CaptureReading {
  bursts: MeasuredBurst[];
  clockPpm: number;
  /** How many bursts of the schedule lie outside the capture. */
  missed: number;
}

/** Share of the time that goes into finding the bursts. */
const ALIGNED_SHARE = 0.6;

/** A full-scale sine's peak over its root mean square: 20 lg sqrt(2). */
export const CREST_DB = 10 * Math.log10(2);

export interface ReadOptions {
  channel: number;
  correction?: Curve;
  fullScaleDb: number;
  /** Added to bring levels from the microphone to 1 m; 0 where that cannot be done. */
  distanceDb: number;
}

/**
 * Read all bursts of one capture.
 *
 * @throws BassloomError `no-such-channel`, those of `decodeWav` and of `alignCapture`.
 */
export function readCapture(
  capture: Recording,
  plan: PlannedBurst[],
  options: ReadOptions,
  onProgress: (share: number) => void,
): CaptureReading {
  const { sampleRateHz: rate, channels } = decodeWav(capture);
  const samples = channels[options.channel - 1];
  if (!samples) {
    const values = { label: capture.label, channel: options.channel, channels: channels.length };
    throw makeRefusal('no-such-channel', values, { field: 'channel' });
  }
  const { arrivalS, clockPpm } = alignCapture(samples, rate, plan);
  const speed = 1 + clockPpm * 1e-6;
  const readings = plan.map((burst, i) => {
    onProgress(ALIGNED_SHARE + ((1 - ALIGNED_SHARE) * i) / plan.length);
    const at = arrivalS(burst);
    const isInside = at >= 0 && at + burst.seconds <= samples.length / rate;
    return isInside ? readBurst(samples, rate, burst, at, speed) : undefined;
  });
  const noise = burstNoise(plan, readings, stepOf(capture) ** 2 / 12);
  const isClipped = clippingIn(samples);
  return {
    clockPpm,
    missed: readings.filter((reading) => !reading).length,
    bursts: plan.map((burst, i) => inDb(burst, readings[i], noise[i], capture.about.driveDb ?? 0, options, isClipped)),
  };
}

/** Step of a recording's whole numbers, full scale = 1; 0 of floating ones. */
function stepOf({ wav, label }: Recording): number {
  const { encoding, bits } = layOutWav(wav, label);
  return encoding === 'float' ? 0 : 2 ** (1 - bits);
}

function inDb(
  burst: PlannedBurst,
  reading: BurstReading | undefined,
  noisePower: (number | null)[],
  runDb: number,
  { correction, fullScaleDb, distanceDb }: ReadOptions,
  isClipped: (span: BurstReading['samples']) => boolean,
): MeasuredBurst {
  const { centreHz, hz, levelDbfs } = burst;
  const driveDb = levelDbfs + runDb;
  if (!reading) {
    return {
      centreHz,
      driveDb,
      microphoneDb: null,
      levelDb: null,
      snrDb: null,
      harmonicsDb: [],
      harmonicNoiseDb: [],
      nullDb: 0,
      clipped: false,
    };
  }
  const orders = reading.amplitudes.map((_, i) => (i + 1) * hz);
  const microphone = correction ? interpolate(correction.frequencyHz, correction.levelDb, orders) : orders.map(() => 0);
  const corrected = (amplitude: number, i: number) => 20 * Math.log10(amplitude) - microphone[i];
  const fundamental = corrected(reading.amplitudes[0], 0);
  const noise = noisePower.map((power, i) => (power === null ? null : corrected(Math.sqrt(power), i)));
  const microphoneDb = corrected(reading.peak, 0) + CREST_DB + fullScaleDb;
  return {
    centreHz,
    driveDb,
    microphoneDb,
    levelDb: microphoneDb + distanceDb,
    snrDb: noise[0] === null ? null : fundamental - noise[0],
    harmonicsDb: reading.amplitudes.map((a, i) => corrected(a, i) - fundamental).slice(1),
    harmonicNoiseDb: noise.map((level) => (level === null ? null : level - fundamental)).slice(1),
    nullDb: 20 * Math.log10(reading.peak / reading.amplitudes[0]),
    clipped: isClipped(reading.samples),
  };
}

/** Whether a stretch of a capture touches its rail. */
function clippingIn(samples: Float32Array | Float64Array): (span: BurstReading['samples']) => boolean {
  const { railDbfs } = findClipping(samples);
  if (railDbfs === null) return () => false;
  const rail = 10 ** (railDbfs / 20) * (1 - 1e-4);
  return ([from, to]) => {
    for (let n = from; n < to; n++) if (Math.abs(samples[n]) >= rail) return true;
    return findClipping(samples.subarray(from, to)).samples > 0;
  };
}
