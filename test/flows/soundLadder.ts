import { biquad, decodeWav, type Recording, runBiquads, writeWav } from '../../lib';
import { randomFrom } from '../../lib/rig/random';

/*
 * A unit small enough to be known in closed form: what lies below 80 Hz runs into x - k x^3, what lies above does not,
 * and a second-order Butterworth high-pass at 25 Hz follows. Crossover of fourth order, whose branches add in phase:
 * |LP| = 1 / (1 + (f/fc)^4), |HP| = (f/fc)^4 / (1 + (f/fc)^4). A sine of amplitude a leaves a cubic as the fundamental
 * a - 3/4 k a^3 and the third harmonic k a^3 / 4 (power-reduction formula of the sine).
 */
const CROSSOVER_HZ = 80;
const CORNER_HZ = 25;
/** Share that the cubic takes of the fundamental at the highest drive, far below the crossover: 3/4 k a^2. */
const LOST_AT_TOP = 0.24;
const DELAY_S = 0.012;

export interface SoundLadder {
  stimulus: Recording;
  stepDb: number;
  /** The highest drive is so many steps above 0. */
  topStep: number;
  /** Amplitude of the stimulus, full scale at 1. */
  amplitude: number;
  /** Amplitude in the capture at the highest drive where nothing is lost. */
  topAmplitude: number;
  /** Root mean square of the recorder's noise. */
  noise: number;
}

/** What the recorder makes of one run: 24 bit, a little late, with noise. */
export function record(ladder: SoundLadder, step: number): Buffer {
  const { stimulus, noise } = ladder;
  const { sampleRateHz, channels } = decodeWav(stimulus);
  const random = randomFrom(['sound ladder', step]);
  const played = play(Float64Array.from(channels[0]), sampleRateHz, ladder, step);
  const late = Math.round(DELAY_S * sampleRateHz);
  const heard = new Float64Array(played.length + late);
  for (let i = 0; i < heard.length; i++) heard[i] = (played[i - late] ?? 0) + noise * random.normal();
  return writeWav({ sampleRateHz, channels: [heard] }, { format: 'pcm24' });
}

function play(samples: Float64Array, rateHz: number, ladder: SoundLadder, step: number): Float64Array {
  const twice = (kind: 'low-pass' | 'high-pass') => {
    const filter = biquad({ kind, hz: CROSSOVER_HZ }, rateHz);
    return [filter, filter];
  };
  const gain = amplitudeAt(ladder, step) / ladder.amplitude;
  const driven = samples.map((x) => gain * x);
  const low = runBiquads(driven, twice('low-pass'));
  const high = runBiquads(driven, twice('high-pass'));
  const k = cubic(ladder);
  const sum = low.map((x, i) => x - k * x ** 3 + high[i]);
  return runBiquads(sum, [biquad({ kind: 'high-pass', hz: CORNER_HZ }, rateHz)]);
}

function amplitudeAt({ stepDb, topStep, topAmplitude }: SoundLadder, step: number): number {
  return topAmplitude * 10 ** (((step - topStep) * stepDb) / 20);
}

function cubic({ topAmplitude }: SoundLadder): number {
  return LOST_AT_TOP / (0.75 * topAmplitude ** 2);
}

const highPassDb = (hz: number) => -10 * Math.log10(1 + (CORNER_HZ / hz) ** 4);

/** Level of the fundamental in dB re a full-scale sine, what compression takes of it, and third-order distortion in %. */
export function truthAt(ladder: SoundLadder, step: number, hz: number) {
  const amplitude = amplitudeAt(ladder, step);
  const lowShare = 1 / (1 + (hz / CROSSOVER_HZ) ** 4);
  const low = amplitude * lowShare;
  const k = cubic(ladder);
  const fundamental = amplitude - 0.75 * k * low ** 3;
  const thirdDb = 20 * Math.log10((k * low ** 3) / 4 / fundamental) + highPassDb(3 * hz) - highPassDb(hz);
  return {
    levelDb: 20 * Math.log10(fundamental) + highPassDb(hz),
    lostDb: -20 * Math.log10(fundamental / amplitude),
    thdPercent: 100 * 10 ** (thirdDb / 20),
  };
}
