import { inverseRealFft, nextFastLength, realFft } from '../../signal/fourier';
import { hilbert } from '../../signal/hilbert';
import { toneBurst } from '../../signal/toneBurst';
import type { PlannedBurst } from './burstPlan';
import { dftAt } from './dftAt';
import { fadedGate } from './fadedGate';
import { thinCapture } from './thinCapture';

/** Highest order that is looked at, where the sample rate allows it. */
export const HIGHEST_ORDER = 15;
/** Band kept, in multiples of the frequency: the highest order and its lobe. */
const BAND = HIGHEST_ORDER + 1.5;
/** Longest decay that is waited for, s. */
const MOST_DECAY_S = 0.5;
/** Frequencies at which the noise is read, relative to the fundamental, round each order. */
const NOISE_AT = [-0.3, -0.15, 0, 0.15, 0.3];

/** What a burst was read as, in units of digital full scale. */
export interface BurstReading {
  /** Greatest amplitude of the envelope of the fundamental's band. */
  peak: number;
  /** By order from 1: amplitude of the burst that would have this spectrum at n f. */
  amplitudes: number[];
  /** Squares of the same, of the noise before the burst: mean round n f, and at n f; null where no silence is there. */
  noise: ({ around: number; at: number } | null)[];
  /** Samples of the capture that it was read from. */
  samples: [from: number, to: number];
}

/**
 * Read the fundamental and the harmonics of one burst.
 *
 * @param samples one channel of a capture. @param rate its sample rate, Hz. @param burst as planned.
 * @param arrivalS where it begins in the capture, s. @param speed recorder's clock over the player's.
 *
 * Notes: the window takes in the burst and half of the silence after it, 0.5 s at most, the last half of that faded
 * out, so that what the room has stored is counted. Its spectrum at n f, over that of the burst itself, is the steady
 * transfer at n f. The peak is that of the analytic signal of the band round f, flat over f +- 0.42 f and gone at
 * f +- 0.6 f. The noise is read in the silence before the burst
 * that the window of the burst before left, round each n f, and taken for noise of equal density.
 */
export function readBurst(
  samples: Float32Array | Float64Array,
  rate: number,
  burst: PlannedBurst,
  arrivalS: number,
  speed = 1,
): BurstReading {
  const { seconds, gapBeforeS, gapAfterS } = burst;
  const hz = burst.hz / speed;
  const bandHz = Math.min(BAND * hz, 0.45 * rate);
  const leadS = Math.min(0.1 * seconds + 0.02, gapBeforeS / 4);
  const decayS = Math.min(MOST_DECAY_S, gapAfterS / 2);
  const span: Span = [arrivalS - leadS, arrivalS, arrivalS + seconds + decayS / 2, arrivalS + seconds + decayS];
  const beforeS = Math.min(MOST_DECAY_S, gapBeforeS / 2);
  const part = gated(samples, rate, bandHz, span);
  const orders = ordersBelow(hz, bandHz);
  const own = toneBurst(hz, part.rate);
  const unit = magnitudeAt(own, hz, part.rate);
  const quiet: Span | undefined = quietSpan(arrivalS - gapBeforeS + beforeS, arrivalS - leadS, leadS, decayS / 2);
  const silence = quiet && quiet[0] >= 0 ? gated(samples, rate, bandHz, quiet) : undefined;
  return {
    peak: envelopePeak(part.samples, part.rate, hz) / envelopePeak(own, part.rate, hz),
    amplitudes: orders.map((n) => magnitudeAt(part.samples, n * hz, part.rate) / unit),
    noise: orders.map((n) => {
      if (!silence) return null;
      const powers = NOISE_AT.map((off) => magnitudeAt(silence.samples, (n + off) * hz, part.rate) ** 2);
      const toUnit = part.energy / silence.energy / (unit * unit);
      const around = powers.reduce((sum, power) => sum + power, 0) / powers.length;
      return { around: toUnit * around, at: toUnit * powers[NOISE_AT.indexOf(0)] };
    }),
    samples: [Math.floor(arrivalS * rate), Math.ceil((arrivalS + seconds) * rate)],
  };
}

type Span = [from: number, full: number, fade: number, to: number];

function gated(samples: Float32Array | Float64Array, rate: number, bandHz: number, span: Span) {
  const thin = thinCapture(samples, rate, bandHz, Math.floor(span[0] * rate), Math.ceil(span[3] * rate));
  const gate = fadedGate(thin.samples.length, thin.rate, span.map((at) => at - thin.fromS) as Span);
  const mean = weightedMean(thin.samples, gate);
  let energy = 0;
  for (let n = 0; n < gate.length; n++) {
    energy += gate[n] ** 2;
    gate[n] *= thin.samples[n] - mean;
  }
  return { samples: gate, rate: thin.rate, energy };
}

/** Fades as long as the burst's own window has, or shorter where there is no room for them. */
function quietSpan(from: number, to: number, rise: number, fall: number): Span | undefined {
  if (!(to - from > 0.02)) return undefined;
  const share = Math.min(1, (0.9 * (to - from)) / (rise + fall));
  return [from, from + share * rise, to - share * fall, to];
}

function ordersBelow(hz: number, bandHz: number): number[] {
  const count = Math.max(1, Math.min(HIGHEST_ORDER, Math.floor(bandHz / hz - 0.35)));
  return Array.from({ length: count }, (_, i) => i + 1);
}

function magnitudeAt(samples: Float64Array, hz: number, rate: number): number {
  return Math.hypot(...dftAt(samples, hz, rate));
}

/** What is constant does not belong to the sound. */
function weightedMean(samples: Float64Array, gate: Float64Array): number {
  let [sum, weight] = [0, 0];
  for (let n = 0; n < gate.length; n++) {
    sum += gate[n] * samples[n];
    weight += gate[n];
  }
  return weight > 0 ? sum / weight : 0;
}

/** Greatest magnitude of the analytic signal of the band round a frequency. */
function envelopePeak(samples: Float64Array, rate: number, hz: number): number {
  const length = nextFastLength(2 * samples.length);
  const bins = realFft(samples, length);
  for (let k = 0; k < bins.length / 2; k++) {
    const off = Math.abs((k * rate) / length / hz - 1);
    const gain = off <= FLAT ? 1 : off >= EDGE ? 0 : 0.5 * (1 + Math.cos((Math.PI * (off - FLAT)) / (EDGE - FLAT)));
    bins[2 * k] *= gain;
    bins[2 * k + 1] *= gain;
  }
  const real = inverseRealFft(bins);
  const imaginary = hilbert(real);
  let most = 0;
  for (let n = 0; n < length; n++) most = Math.max(most, real[n] ** 2 + imaginary[n] ** 2);
  return Math.sqrt(most);
}

/**
 * Half of the fundamental's band, relative to it: flat and none. The burst's own lobe reaches 2 / 6.5 to each side, that
 * of its third power, which compression adds, 4 / 6.5; the second harmonic's begins at 2 - 3 / 6.5.
 */
const FLAT = 0.42;
const EDGE = 0.6;
