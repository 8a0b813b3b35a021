import type { Caveat } from './caveat';
import type { Interval } from './interval';

/** How a curve was read from a text file. */
export interface TextImport {
  name?: string;
  delimiter: string;
  decimal: '.' | ',';
  /** By what is in them, the first column being 1. */
  columns: Record<string, number>;
  frequencyUnit: 'Hz' | 'kHz' | 'mHz' | 'MHz' | 'rad/s';
  levelUnit: 'dB' | 'linear' | 'V' | 'mV' | 'Pa' | 'mPa' | 'uPa';
}

/** How a recording was read from a WAV file. */
export interface WavImport {
  name?: string;
  encoding: 'pcm' | 'float';
  bits: number;
}

/** A capture that is bad or doubtful, as the curves that come from it name it. */
export interface CaptureMark {
  /** Id of the recording. */
  capture: string;
  label: string;
  verdict: 'doubtful' | 'bad';
  warnings: Caveat[];
}

/** Steps that join curves keep what was wrong with the captures behind them. */
interface Joined {
  captures?: CaptureMark[];
}

type SoundFormat = 'pcm16' | 'pcm24' | 'pcm32' | 'float32' | 'float64';

/** A sweep as it came out, to the sample. */
export interface MadeSweep {
  startHz: number;
  endHz: number;
  seconds: number;
  sampleRateHz: number;
  levelDbfs?: number;
  rateSeconds: number;
  sweepSeconds: number;
  leadInSamples: number;
  sweepSamples: number;
  format: SoundFormat;
}

/** A schedule of bursts as it came out. */
export interface MadeBursts {
  sampleRateHz: number;
  fromHz: number;
  toHz: number;
  lowestDbfs: number;
  highestDbfs: number;
  stepDb: number;
  gapSeconds: number;
  /** How many there are. */
  bursts: number;
  format: SoundFormat;
}

/** How a response, a harmonic or an impulse response was got out of a capture, and what the capture is worth. */
export interface Deconvolved {
  /** Id of the recording. */
  capture: string;
  /** Label of the stimulus. */
  stimulus: string;
  /** Which channel of several, the first being 1. */
  channel?: number;
  /** Of the stimulus, dB re a full-scale sine. */
  amplitudeDbfs: number;
  fullScaleDb?: number;
  delayMs: number;
  /** 'phase' where it is sure within 0.1 ms. */
  delayFrom: 'phase' | 'first arrival' | 'energy';
  /** 95 %; measurements kept from before have none. */
  delayUncertaintyMs?: number;
  /** How much faster the recorder's clock ran, where that was evened out. */
  clockPpm?: number;
  noiseFrom: string;
  /** Of impulse responses: where the stimulus would have arrived without delay, often before the first sample. */
  stimulusAtSample?: number;
  warnings: Caveat[];
  verdict: 'good' | 'doubtful' | 'bad';
}

/** What was done, by name, and what it was done with. */
interface StepSettings {
  import: TextImport | WavImport;
  'choose channel': { channel: number; of: number };
  'make sweep': MadeSweep;
  'make muted sweep': MadeSweep;
  'make bursts': MadeBursts;
  /** `stimulus`: id of what was played. */
  'play through virtual rig': { stimulus: string; seed: number; take: number };
  deconvolve: Deconvolved;
  calibrate: { fullScaleDb: number };
  /** `correction`, `id`: label and id of the microphone's curve; `extrapolatedHz`: where it had to be held. */
  'microphone correction': { correction: string; id: string; extrapolatedHz?: Interval[] };
  /** `noise`, `id`: label and id of the noise run; `knownHz`: its range, where the curve goes further. */
  'attach noise': { noise: string; id: string; knownHz?: Interval } & Joined;
  /** `fraction`: 1/fraction octave. */
  smooth: { fraction: number };
  /** `curves`: ids. */
  average: { method: 'power' | 'decibel' | 'vector'; curves: string[] } & Joined;
  bridge: { masksHz: Interval[] };
  'frequency weighting': { weighting: 'A' | 'C' | 'Z' };
  /** `a`, `b`: labels; `idA`, `idB`: ids; `drivenDb`: by how much a was driven harder, taken off. */
  difference: {
    a: string;
    b: string;
    idA: string;
    idB: string;
    drivenDb: number;
    /** What was taken off since the two runs repeat no better. */
    offsetDb?: number;
  };
}

/** What a program of one's own did to the numbers, such as 'own: offset'. */
export interface OwnStep {
  did: `own: ${string}`;
  with: Record<string, unknown>;
}

/** Names of the steps that this library takes. */
export type StepName = keyof StepSettings;

/** A step of one name. */
export type StepOf<N extends StepName> = { did: N; with: StepSettings[N] };

/** One thing that was done to the numbers, with the settings it was done with. */
export type Step = { [N in StepName]: StepOf<N> }[StepName] | OwnStep;

/**
 * List the steps of one name, first things first.
 *
 * @param measurement curve or recording. @param name of the step.
 * @returns its steps of that name. Steps that a flow of one's own has written under names unknown here are passed over,
 * as are steps without settings.
 *
 * @example
 * stepsOf(smooth(curve, { fraction: 6 }), 'smooth')[0].with.fraction // 6
 */
export function stepsOf<N extends StepName>(measurement: { steps: readonly Step[] }, name: N): StepOf<N>[] {
  return measurement.steps.filter(
    (step): step is Step & StepOf<N> => step?.did === name && typeof step.with === 'object' && step.with !== null,
  );
}
