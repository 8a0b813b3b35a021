import type { Caveat } from '../../model/caveat';
import type { Curve, Recording } from '../../model/curve';
import type { Deconvolution } from '../../model/findings';
import type { StepOf } from '../../model/step';
import { nextFastLength } from '../../signal/fourier';
import type { SweepSpec } from '../../signal/sweepPlan';
import { makeCaveat } from '../../words/makeCaveat';
import { makeRefusal } from '../../words/makeRefusal';
import { findHum } from '../capture/findHum';
import { harmonicCurve, logGrid, responseColumns, responseCurve, type Story, thdOf } from './curves';
import { type NoiseRun, type ReducedCapture, type Response, respond } from './divide/respond';
import { judge } from './facts';
import { gridOf } from './grid';
import { findHarmonics, type Harmonic } from './harmonics/harmonics';
import { impulseRecording } from './impulseRecording';
import { noiseSpectrum } from './noise/noiseSpectrum';
import { removeHum } from './noise/removeHum';
import { type DeconvolveOptions, type Settings, settingsOf } from './options';
import { type Channel, factsOf, readChannel } from './place/capture';
import { turnClock } from './place/clock';
import { planRate, reduceRate } from './place/reduceRate';
import { type Reference, referenceFor } from './place/reference';
import { readStimulus, type Stimulus } from './place/stimulus';

export type { DeconvolveOptions } from './options';

/** Highest share of the lower sample rate that is used. */
const MOST_OF_RATE = 0.38;
/** Shortest transform, s: bins must lie close enough to be read between. */
const SHORTEST_S = 20;
/** Harmonics are followed up to here, Hz, unless the response itself goes further: nothing of a subwoofer is above. */
const HARMONICS_TO_HZ = 1600;
/**
 * A sweep of this length shows whether 44.1 and 48 kHz were exchanged in a header, s. Tuned on simulated rooms that ring for 1 to 6 s: of
 * 40 such captures 16 passed as good with a sweep of 1 s, 10 with 2 s; with 4 s none of 20, tried with 44.1 for 48 kHz only.
 */
const SHOWS_RATE_S = 4;
/** Hum is looked for up to here, Hz. */
const HUM_HZ = 520;

/**
 * Get impulse response, response, harmonics, THD, delay and noise out of the capture of a sweep.
 *
 * @param capture recording of the stimulus as the microphone heard it. @param stimulus the file that was played, or what
 * its sweep was to be. @param options see `DeconvolveOptions`. @param onProgress told the share of the work done, 0 to 1.
 * @returns curves on a logarithmic grid. Levels are those of the received tone, transfer times the stimulus' amplitude:
 * dB re a full-scale sine in the capture, or re 20 uPa where `fullScaleDb` is given. The phase holds the whole delay.
 * @throws BassloomError `bad-option`, `no-such-channel`, `stimulus-too-long`, `stimulus-silent`, `capture-too-long`,
 * `capture-too-short`, `no-sweep-found`, `wrong-sweep`, `several-sweeps`, and those of `decodeWav`, `planSweep` and `correctMicrophone`.
 *
 * Notes: everything happens at the lowest sample rate that holds the band. The response is the capture's spectrum over
 * that of the stimulus as it was played, faded below its start and above its end, and windowed as long as it rings
 * above the noise. Harmonics come by the closed inverse of the sweep out of what the response does not explain. Noise
 * is read where and when the sweep is not, and given as what it adds on average to each point. A stimulus that is no
 * exponential sweep gives a response only.
 *
 * Reference: A. Farina, AES 108th Convention (2000), 5093; A. Novak, P. Lotton, L. Simon, J. Audio Eng. Soc. 63 (2015)
 * 786-798; S. Mueller, P. Massarani, J. Audio Eng. Soc. 49 (2001) 443-471 (all from memory).
 *
 * @example
 * const { recording } = readWav(readFileSync('capture.wav'));
 * deconvolveCapture(recording, { startHz: 5, endHz: 400, seconds: 20, sampleRateHz: 48000 }).response
 */
export function deconvolveCapture(
  capture: Recording,
  stimulus: Recording | SweepSpec,
  options: DeconvolveOptions = {},
  onProgress: (share: number) => void = () => {},
): Deconvolution {
  const settings = settingsOf(options);
  const played = readStimulus(stimulus);
  const heard = readChannel(capture, settings.channel);
  onProgress(0.15);
  const bands = bandsFor(heard, played, settings);
  const seconds = Math.max(heard.seconds, played.seconds, SHORTEST_S);
  const plan = settings.isFullRate
    ? { factors: [], rateHz: heard.sampleRateHz, length: nextFastLength(seconds * heard.sampleRateHz) }
    : planRate(heard.sampleRateHz, bands.bandHz, seconds);
  const { rateHz, factors } = plan;
  const samples = reduceRate(heard.samples, heard.sampleRateHz, bands.bandHz, factors);
  const reduced: ReducedCapture = { channel: factsOf(heard), samples, rateHz, bandHz: bands.bandHz };
  onProgress(0.4);
  const grid = gridOf(rateHz, plan.length);
  const reference = referenceFor(played, heard.sampleRateHz, bands.bandHz, grid, factors);
  onProgress(0.55);
  const response = respond(reduced, reference, bands.topHz, noiseRun(settings, reduced, bands.bandHz));
  onProgress(0.75);
  const frequencyHz = pointsFor(response, reference, bands.topHz, settings);
  const harmonics = bands.highest > 1 ? harmonicsOf(response, reference, bands, frequencyHz) : [];
  onProgress(0.9);
  const deconvolution = writeDown(capture, reduced, reference, response, frequencyHz, harmonics, settings);
  onProgress(1);
  return deconvolution;
}

interface Bands {
  /** End of the response, Hz, and of what must be kept for its harmonics. */
  topHz: number;
  bandHz: number;
  /** Highest harmonic. */
  highest: number;
}

function bandsFor(channel: Channel, played: Stimulus, settings: Settings): Bands {
  const mostHz = MOST_OF_RATE * Math.min(channel.sampleRateHz, played.sampleRateHz);
  const topHz = Math.min(settings.toHz, played.plan?.endHz ?? settings.toHz, mostHz);
  const highest = played.plan ? settings.harmonics : 1;
  const wanted = Math.max(topHz * 1.09, Math.min(topHz * highest, HARMONICS_TO_HZ), HUM_HZ);
  return { topHz, highest, bandHz: Math.min(wanted, mostHz) };
}

function noiseRun(settings: Settings, reduced: ReducedCapture, bandHz: number): NoiseRun | undefined {
  if (!settings.noise) return undefined;
  const channel = readChannel(settings.noise, Math.min(settings.channel, settings.noise.channels));
  if (channel.sampleRateHz < reduced.channel.sampleRateHz * 0.9 && MOST_OF_RATE * channel.sampleRateHz < bandHz) {
    throw makeRefusal('bad-noise', { label: channel.label, rateHz: channel.sampleRateHz }, { field: 'noise' });
  }
  const { factors, rateHz } = planRate(channel.sampleRateHz, bandHz, channel.seconds);
  const samples = reduceRate(channel.samples, channel.sampleRateHz, bandHz, factors);
  // the same noise in more samples a second has more in each bin
  const ratio = reduced.rateHz / rateHz;
  const hum = findHum(samples, rateHz);
  return {
    hum,
    without: (removedHz) => {
      const lines = hum.map(({ frequencyHz }) => frequencyHz);
      const gone = lines.filter((hz) => removedHz.some((removed) => Math.abs(removed - hz) < 1));
      const { samples: rest } = removeHum(samples, rateHz, gone, () => [-1, -1]);
      const found = noiseSpectrum(
        rest,
        rateHz,
        1.4,
        () => ({ until: Number.POSITIVE_INFINITY, since: 0 }),
        Number.POSITIVE_INFINITY,
      );
      return found && { ...found, power: (hz, sums) => found.power(hz, { ...sums, squares: sums.squares * ratio }) };
    },
  };
}

function pointsFor({ transfer, extent }: Response, { law }: Reference, topHz: number, settings: Settings): number[] {
  const { band } = transfer;
  const from = Math.max(band.full, law?.startHz ?? 0, extent?.fromHz ?? 0);
  const to = Math.min(band.fullTo, topHz, extent?.toHz ?? topHz);
  if (!(to > from * 1.1)) throw makeRefusal('nothing-usable', {}, { field: 'capture' });
  return logGrid(from, to, settings.pointsPerOctave);
}

function harmonicsOf(response: Response, reference: Reference, bands: Bands, frequencyHz: number[]): Harmonic[] {
  const { transfer, fundamental, noise, spectrum } = response;
  const { clock } = response.delay;
  const { law, grid } = reference;
  const input = {
    capture: spectrum,
    stimulus: reference.spectrum,
    inverse: reference.inverse(),
    ...(clock?.isUsed && { turn: (bins: Float64Array) => turnClock(bins, grid.binHz, law!, clock.ppm) }),
    rateHz: grid.rateHz,
    reference,
    law: law!,
    transfer,
    fundamental,
    noise,
    bandHz: bands.bandHz,
    topHz: frequencyHz[frequencyHz.length - 1],
  };
  return findHarmonics(input, bands.highest, frequencyHz);
}

function writeDown(
  capture: Recording,
  reduced: ReducedCapture,
  { stimulus }: Reference,
  response: Response,
  frequencyHz: number[],
  harmonics: Harmonic[],
  settings: Settings,
): Deconvolution {
  const { fullScaleDb, correction } = settings;
  const { noise, extent, hum, removedHz } = response;
  const { delayS, uncertaintyS, from, clock } = response.delay;
  const columns = responseColumns(response, frequencyHz, 20 * Math.log10(stimulus.amplitude) + (fullScaleDb ?? 0));
  const quality = judge({
    recording: { recording: capture.id, label: capture.label, about: capture.about },
    channel: reduced.channel,
    stimulusRateHz: stimulus.sampleRateHz,
    hum,
    removedHz,
    extent,
    clock,
    response: columns,
    fullScaleDb,
    others: limitsOf(stimulus, reduced.channel.sampleRateHz, response),
  });
  const story: Story = { label: capture.label, about: capture.about, steps: capture.steps, fullScaleDb };
  const step: StepOf<'deconvolve'> = {
    did: 'deconvolve',
    with: {
      capture: capture.id,
      stimulus: stimulus.label,
      ...(capture.channels > 1 && { channel: settings.channel }),
      amplitudeDbfs: 20 * Math.log10(stimulus.amplitude),
      ...(fullScaleDb !== undefined && { fullScaleDb }),
      delayMs: delayS * 1000,
      delayFrom: from,
      delayUncertaintyMs: uncertaintyS * 1000,
      ...(clock?.isUsed && { clockPpm: clock.ppm }),
      noiseFrom: settings.noise ? settings.noise.label : noise ? 'the quiet parts of the capture' : 'unknown',
      warnings: quality.warnings,
      verdict: quality.verdict,
    },
  };
  const curves: Curve[] = harmonics.map((h) => harmonicCurve(h, noise !== undefined, story, step, correction));
  return {
    impulse: impulseRecording(response.transfer, reduced.channel.sampleRateHz, story, step),
    response: responseCurve(columns, story, step, correction),
    harmonics: curves,
    thd: thdOf(curves),
    delayMs: delayS * 1000,
    delayUncertaintyMs: uncertaintyS * 1000,
    quality,
  };
}

/** What the capture cannot tell, beside what is wrong with it. */
function limitsOf(stimulus: Stimulus, rateHz: number, response: Response): Caveat[] {
  const { noise, several, gainChange, fasterPercent, delay } = response;
  const { plan } = stimulus;
  const isShort = plan !== undefined && Math.round(plan.sweepSeconds) < SHOWS_RATE_S;
  const isRateOpen = isShort && rateHz !== stimulus.sampleRateHz && !delay.clock && fasterPercent === undefined;
  return [
    ...(isRateOpen
      ? [makeCaveat('capture-rate-unsure', 'doubt', { sweepS: plan.sweepSeconds, leastS: SHOWS_RATE_S })]
      : []),
    ...(stimulus.plan ? [] : [makeCaveat('not-a-sweep', 'remark', { stimulus: stimulus.label })]),
    ...(fasterPercent === undefined
      ? []
      : [makeCaveat('capture-rate-mislabelled', 'warning', { percent: fasterPercent })]),
    ...(several ? [makeCaveat('capture-several-sweeps', 'doubt', several)] : []),
    ...(gainChange ? [makeCaveat('capture-gain-follows', 'doubt', { ...gainChange })] : []),
    ...(noise ? [] : [makeCaveat('capture-noise-unknown', 'doubt', {})]),
  ];
}
