import { realFft } from '../../../signal/fourier';
import { makeRefusal } from '../../../words/makeRefusal';
import { findGainChange, type GainChange } from '../../capture/findGainChange';
import { findHum, type Stretch } from '../../capture/findHum';
import type { HumLine } from '../../capture/humLines';
import { type Delay, findDelay } from '../delay/delay';
import { excessPhase } from '../delay/excessPhase';
import { type Band, bandGain } from '../grid';
import { type NoiseSpectrum, noiseSpectrum } from '../noise/noiseSpectrum';
import { type Quiet, quietOf } from '../noise/quiet';
import { removeHum } from '../noise/removeHum';
import type { ChannelFacts } from '../place/capture';
import { turnClock } from '../place/clock';
import { type Extent, extentOf, fadeTorn } from '../place/extent';
import { locate } from '../place/locate';
import { otherHeader } from '../place/otherHeader';
import { onsetLine, otherSpeed } from '../place/otherSpeed';
import { type Reference, sweepHz, sweepTime } from '../place/reference';
import { type Divisor, divisorFor } from './division';
import { type Fundamental, impulseOf, type Transfer, windowFundamental } from './fundamental';

/** A capture at its lowered rate. */
export interface ReducedCapture {
  channel: ChannelFacts;
  samples: Float64Array;
  rateHz: number;
  /** Up to where it holds what was recorded, Hz. */
  bandHz: number;
}

/** What was found of the linear response, before it is written down. */
export interface Response {
  /** Spectrum of the capture, torn ends faded. */
  spectrum: Float64Array;
  extent: Extent | undefined;
  /** Hum lines of the capture, and those that were taken out. */
  hum: HumLine[];
  removedHz: number[];
  noise: NoiseSpectrum | undefined;
  transfer: Transfer;
  fundamental: Fundamental;
  delay: Delay;
  /** When the sweep that was used arrived, and the next one after it, where there is more than one, s. */
  several?: { usedS: number; otherS: number };
  /** Where the recorder's gain followed the level. */
  gainChange: GainChange | undefined;
  /** How much faster the sweep ran than the one that was given, percent, where it did. */
  fasterPercent: number | undefined;
}

/** Silence recorded by itself. */
export interface NoiseRun {
  hum: HumLine[];
  /** Its noise, without its hum at the frequencies at which it was taken out of the capture. */
  without(removedHz: number[]): NoiseSpectrum | undefined;
}

/** Rate of the shortened impulse response over the end of its band: room to read between its samples. */
const RATE_TO_BAND = 2.7;
/** Harmonics of other stimuli stand anywhere; nothing much comes before the arrival, s. */
const CLEAR_S = 1;
/** Share of its frequency within which the stimulus hides a line, and how long it rings there, s. */
const PASSING = 1.3;
const RINGING_S = 1.5;
/** The same where hum is looked for: what still rings can be told from it. */
const FADING_S = 1;
/** Before the sweep begins, s. */
const GUARD_S = 0.02;
/** Harmonics above that order do not stand out. */
const HIGHEST_ORDER = 12;
/** Two sightings of one hum line are that near, Hz. */
const SAME_LINE_HZ = 1;
/** What is so many times above the end of a sweep is none of it, whatever its fades spread. */
const ABOVE_SWEEP = 1.2;
/** What comes so long before the next sweep is not used, s: it fades in, and its arrival is not exact. */
const BEFORE_NEXT_S = 0.1;
/** Where too little is above the noise for a phase, the energy tells the arrival to that many periods of the lowest frequency. */
const ENERGY_PERIODS = 0.5;
/** Fewer looks at the noise than that, and what is nearly quiet counts as well. */
const FEWEST_LOOKS = 1.5;

/**
 * Divide a capture by its stimulus, and window what comes out.
 *
 * @param capture at its lowered rate. @param reference the stimulus on the same grid. @param topHz end of the response.
 * @param noiseRun noise recorded by itself, where there is one.
 */
export function respond(
  capture: ReducedCapture,
  reference: Reference,
  topHz: number,
  noiseRun: NoiseRun | undefined,
): Response {
  const { law, grid, stimulus } = reference;
  const divisor = divisorFor(reference, topHz);
  const heard = realFft(capture.samples, grid.length);
  const first = apply(heard, divisor);
  const { heldS } = capture.channel;
  const isHeld = (hz: number, late: number) =>
    law === undefined || (late + sweepTime(law, hz) > 0 && late + sweepTime(law, hz) < heldS);
  const sought = law ? heldBand(divisor.band, sweepHz(law, heldS)) : divisor.band;
  const { arrivalS, othersS } = locate(first, grid.binHz, sought, capture.channel.label, isHeld, law);
  if (othersS.length > 0) return ofFirst(capture, reference, topHz, noiseRun, [arrivalS, ...othersS]);
  const extent = law && extentOf(law, arrivalS, heldS, capture.channel.seconds);
  const quiet = quietOf(law, arrivalS, stimulus.soundsS, heldS);
  const passedS = (hz: number) => (law ? sweepTime(law, hz) : stimulus.soundsS[1]);
  const quietAt = (hz: number): Stretch[] => [
    [
      0,
      arrivalS +
        (law ? sweepTime(law, Math.max(law.startHz, hz / (HIGHEST_ORDER + 1))) - GUARD_S : stimulus.soundsS[0]),
    ],
    [arrivalS + (law ? sweepTime(law, Math.min(law.endHz, hz * PASSING)) : stimulus.soundsS[1]) + FADING_S, heldS],
  ];
  const own = findHum(capture.samples, capture.rateHz, quietAt);
  const isAmong = (hz: number, frequencies: number[]) => frequencies.some((one) => Math.abs(one - hz) < SAME_LINE_HZ);
  const busyAt = (hz: number): [number, number] => [
    arrivalS + (law ? passedS(hz / PASSING) : stimulus.soundsS[0]),
    arrivalS + passedS(hz * PASSING) + RINGING_S,
  ];
  const ownHz = own.map(({ frequencyHz }) => frequencyHz);
  const others = noiseRun?.hum.filter(({ frequencyHz }) => !isAmong(frequencyHz, ownHz)) ?? [];
  const lines = [...ownHz, ...others.map(({ frequencyHz }) => frequencyHz)];
  const { samples: clean, removedHz } = removeHum(capture.samples, capture.rateHz, lines, busyAt);
  const hum = [...own, ...others.filter(({ frequencyHz }) => removedHz.includes(frequencyHz))];
  const whole = clean === capture.samples ? heard : realFft(clean, grid.length);
  const rough = clean === capture.samples ? first : apply(whole, divisor);
  const torn = extent !== undefined && (extent.truncatedAtHz !== null || extent.missedBelowHz !== null);
  const held = clean.subarray(0, Math.ceil(heldS * capture.rateHz));
  const spectrum = torn ? realFft(fadeTorn(held, capture.rateHz, extent, law!), grid.length) : whole;
  const used = torn ? narrowed(divisor, extent, grid.binHz) : divisor;
  const raw = torn ? apply(spectrum, used) : rough;
  const noise = noiseRun?.without(removedHz) ?? findNoise(held, capture.rateHz, quiet);
  const gain = squared(used.gain);
  const length = 2 ** Math.ceil(Math.log2((RATE_TO_BAND * used.band.to) / grid.binHz));
  const shape = {
    rateHz: length * grid.binHz,
    noiseRateHz: grid.rateHz,
    binHz: grid.binHz,
    band: used.band,
    arrivalS,
    gain,
    clearBeforeS: law ? law.rateSeconds * Math.LN2 : CLEAR_S,
    longestS: (hz: number) => Math.max(0.3, heldS - arrivalS - passedS(hz)),
  };
  const window = (bins: Float64Array): { transfer: Transfer; fundamental: Fundamental } => {
    const transfer = { ...shape, ...impulseOf(bins, length) };
    return { transfer, fundamental: windowFundamental(transfer, noise) };
  };
  let found = window(raw);
  const onsets = law && onsetLine(found.transfer);
  const header =
    stimulus.plan &&
    otherHeader(heard, grid, stimulus.plan, capture.channel.sampleRateHz, torn ? 'torn' : onsets?.slopeS);
  const fasterPercent = law && (header ?? otherSpeed(onsets, law));
  const aboveHz: [number, number] = [ABOVE_SWEEP * (law?.endHz ?? Number.POSITIVE_INFINITY), capture.bandHz];
  const [soundsFrom, soundsTo] = stimulus.soundsS.map((s) => s + arrivalS);
  const gainChange = findGainChange(held, capture.rateHz, aboveHz, soundsFrom, soundsTo);
  const excess = excessPhase(found.transfer, found.fundamental);
  const delay: Delay = excess
    ? findDelay(excess, law && ((hz) => sweepTime(law, hz)))
    : { delayS: arrivalS, uncertaintyS: ENERGY_PERIODS / used.band.full, from: 'energy', clock: undefined };
  const { clock } = delay;
  if (clock?.isUsed) found = window(turnClock(raw, grid.binHz, law!, clock.ppm));
  return {
    spectrum,
    extent,
    hum,
    removedHz,
    noise,
    ...found,
    delay,
    gainChange,
    fasterPercent,
  };
}

/** The response of the first of several sweeps: the recording up to where the second begins. */
function ofFirst(
  capture: ReducedCapture,
  reference: Reference,
  topHz: number,
  noiseRun: NoiseRun | undefined,
  arrivalsS: number[],
): Response {
  const { channel, samples, rateHz } = capture;
  const law = reference.law!;
  const [usedS, otherS] = arrivalsS.map((s) => s + law.startS).sort((a, b) => a - b);
  if (usedS < 0) throw makeRefusal('several-sweeps', { label: channel.label }, { field: 'capture' });
  const untilS = otherS - BEFORE_NEXT_S;
  const held = { ...channel, seconds: untilS, heldS: Math.min(channel.heldS, untilS) };
  const only = { ...capture, channel: held, samples: samples.subarray(0, Math.floor(untilS * rateHz)) };
  return { ...respond(only, reference, topHz, noiseRun), several: { usedS, otherS } };
}

/** A capture that is too short for the sweep holds only harmonics and the click of its end above what the sweep reached. */
function heldBand(band: Band, reachedHz: number): Band {
  const to = Math.max(reachedHz, 3 * band.full);
  return to < band.to ? { ...band, fullTo: to / 1.05, to } : band;
}

function apply(spectrum: Float64Array, { gain }: Divisor): Float64Array {
  const bins = new Float64Array(gain.length);
  for (let i = 0; i < gain.length; i += 2) {
    bins[i] = spectrum[i] * gain[i] - spectrum[i + 1] * gain[i + 1];
    bins[i + 1] = spectrum[i] * gain[i + 1] + spectrum[i + 1] * gain[i];
  }
  return bins;
}

/** Only what the capture holds of the stimulus. */
function narrowed({ band, gain }: Divisor, extent: Extent, binHz: number): Divisor {
  const full = Math.max(band.full, extent.missedBelowHz ? extent.fromHz : 0);
  const fullTo = Math.min(band.fullTo, extent.truncatedAtHz ? extent.toHz : Number.POSITIVE_INFINITY);
  const now = {
    from: Math.max(band.from, extent.missedBelowHz ? full / 1.12 : 0),
    full,
    fullTo,
    to: Math.min(band.to, extent.truncatedAtHz ? fullTo * 1.06 : Number.POSITIVE_INFINITY),
  };
  const out = new Float64Array(2 * Math.ceil(now.to / binHz) + 2);
  for (let i = 0; i < out.length && i < gain.length; i++) out[i] = gain[i] * bandGain(now, (i >> 1) * binHz);
  return { band: now, gain: out };
}

function squared(gain: Float64Array): Float64Array {
  const out = new Float64Array(gain.length / 2);
  for (let k = 0; k < out.length; k++) out[k] = gain[2 * k] * gain[2 * k] + gain[2 * k + 1] * gain[2 * k + 1];
  return out;
}

function findNoise(samples: Float64Array, rateHz: number, quiet: Quiet): NoiseSpectrum | undefined {
  const strict = noiseSpectrum(samples, rateHz, quiet.blockS, quiet.at);
  if (strict && strict.looks >= FEWEST_LOOKS) return strict;
  return noiseSpectrum(samples, rateHz, quiet.blockS, quiet.nearlyAt) ?? strict;
}
