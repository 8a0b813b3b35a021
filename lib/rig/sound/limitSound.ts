import { inverseRealFft } from '../../signal/fourier';
import { multiplySpectra } from '../../signal/spectrum';
import type { UnitSpec } from '../rigSpec';
import { excursionGain, excursionLevelDb } from './driverParts';
import type { BandLimiterSpec, SoundLimiterSpec } from './soundRigSpec';

/** Slope of the crossover: 24 dB per octave for each 4 of it. */
const CROSSOVER_POWER = 8;
/** How far the top band's detector reaches below the crossover, as a ratio of frequencies. */
const OVERLAP = 1.5;

/** Share of the bottom band at a frequency, 0 to 1; the top band has the rest, and neither turns the phase. */
export function bottomShare({ crossoverHz }: SoundLimiterSpec, hz: number): number {
  return 1 / (1 + (hz / crossoverHz) ** CROSSOVER_POWER);
}

/**
 * What the detector of the top band hears of a frequency, 0 to 1: more of the bottom than its band has, so that a tone
 * between the bands does not slip through both.
 */
function heardByTop(limiter: SoundLimiterSpec, hz: number): number {
  return 1 - bottomShare(limiter, OVERLAP * hz);
}

/**
 * Level that one band takes away from a steady tone.
 *
 * @param overDb level at its detector above the ceiling, dB.
 *
 * Reference: D. Giannoulis, M. Massberg, J. Reiss, J. Audio Eng. Soc. 60 (2012) 399-408, eq. 4 (from memory).
 */
export function bandLossDb({ kneeDb, slope = 0 }: BandLimiterSpec, overDb: number): number {
  if (overDb <= -kneeDb / 2) return 0;
  if (overDb >= kneeDb / 2) return (1 - slope) * overDb;
  return ((1 - slope) * (overDb + kneeDb / 2) ** 2) / (2 * kneeDb);
}

/** Loss of either band, dB. */
export interface BandLosses {
  bottom: number;
  top: number;
}

/**
 * Losses of the limiter's bands for a steady tone, once attack and release are over.
 *
 * @param levelDb level that the tone, without limiter, would have at 1 m well inside the pass band, dB.
 */
export function steadyLosses(limiter: SoundLimiterSpec, unit: UnitSpec, hz: number, levelDb: number): BandLosses {
  const { bottom, top } = limiter;
  const excursionDb = () => levelDb + excursionGain(unit, hz).db;
  const heardDb = () => levelDb + 20 * Math.log10(heardByTop(limiter, hz));
  return {
    bottom: bottom ? bandLossDb(bottom, excursionDb() - excursionLevelDb(unit.highPass, bottom.excursionAt20HzDb)) : 0,
    top: top ? bandLossDb(top, heardDb() - top.amplifierDb) : 0,
  };
}

/** Gain for a tone when the bands lose so much: a factor, 1 or less, that turns no phase. */
export function gainAt(limiter: SoundLimiterSpec, hz: number, losses: BandLosses): number {
  const share = bottomShare(limiter, hz);
  return gain(losses.bottom) * share + gain(losses.top) * (1 - share);
}

/**
 * Hold a sound back in two bands, with attack and release.
 *
 * @param limiter the bands. @param unit whose excursion is guarded.
 * @param bins spectrum of the sound as `realFft` gives it; peaks on the scale of levels at 1 m.
 * @param excursion spectrum of `excursionGain` in the same bins. @param rateHz sample rate.
 * @returns the samples that come out.
 *
 * Notes: the envelope is that of the analytic signal, so a steady tone has no ripple and its loss is exactly that of
 * `steadyLosses`; it looks ahead by about a period. The loss in dB follows by one pole, `attackS` while it grows and
 * `releaseS` while it falls.
 */
export function limitSound(
  limiter: SoundLimiterSpec,
  unit: UnitSpec,
  bins: Float64Array,
  excursion: Float64Array,
  rateHz: number,
): Float64Array {
  const stepHz = rateHz / (bins.length - 2);
  const hzOf = (i: number) => (i >> 1) * stepHz;
  const low = bins.map((value, i) => value * bottomShare(limiter, hzOf(i)));
  const [bottom, top] = [inverseRealFft(low), inverseRealFft(bins.map((value, i) => value - low[i]))];
  if (limiter.bottom) {
    const ceiling = excursionLevelDb(unit.highPass, limiter.bottom.excursionAt20HzDb);
    holdBack(bottom, limiter.bottom, ceiling, multiplySpectra(bins, excursion), rateHz);
  }
  if (limiter.top) {
    const heard = bins.map((value, i) => value * heardByTop(limiter, hzOf(i)));
    holdBack(top, limiter.top, limiter.top.amplifierDb, heard, rateHz);
  }
  return bottom.map((value, n) => value + top[n]);
}

/** Turn a band down, in place, by the envelope of what its detector hears. */
function holdBack(
  band: Float64Array,
  spec: BandLimiterSpec,
  ceilingDb: number,
  heard: Float64Array,
  rateHz: number,
): void {
  const [detector, quadrature] = [inverseRealFft(heard), inverseRealFft(turnedBack(heard))];
  const attack = 1 - Math.exp(-1 / (spec.attackS * rateHz));
  const release = 1 - Math.exp(-1 / (spec.releaseS * rateHz));
  const kneePower = 10 ** ((ceilingDb - spec.kneeDb / 2) / 10);
  let loss = 0;
  for (let n = 0; n < band.length; n++) {
    const power = detector[n] ** 2 + quadrature[n] ** 2;
    const wanted = power > kneePower ? bandLossDb(spec, 10 * Math.log10(power) - ceilingDb) : 0;
    loss += (wanted > loss ? attack : release) * (wanted - loss);
    if (loss > 0) band[n] *= gain(loss);
  }
}

function turnedBack(bins: Float64Array): Float64Array {
  const out = new Float64Array(bins.length);
  for (let i = 2; i < bins.length - 2; i += 2) {
    out[i] = bins[i + 1];
    out[i + 1] = -bins[i];
  }
  return out;
}

function gain(lossDb: number): number {
  return Math.exp((-lossDb * Math.LN10) / 20);
}
