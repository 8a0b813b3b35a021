import type { Recording } from '../../../model/curve';
import { stepsOf } from '../../../model/step';
import { recogniseSweep } from '../../../signal/recogniseSweep';
import { planSweep, type SweepPlan, type SweepSpec } from '../../../signal/sweepPlan';
import { sweepSamples } from '../../../signal/sweepSamples';
import { decodeWav } from '../../../wav/decodeWav';
import { makeRefusal } from '../../../words/makeRefusal';

/** A stimulus as it was played. */
export interface Stimulus {
  /** The same for equal stimuli. */
  key: string;
  label: string;
  samples: Float32Array | Float64Array;
  sampleRateHz: number;
  seconds: number;
  /** Where it is an exponential sweep. */
  plan?: SweepPlan;
  /** Peak of the sweep; of anything else, that of a sine of its root mean square while it sounds. */
  amplitude: number;
  /** From when to when it sounds, silences in between included, s. */
  soundsS: [from: number, to: number];
}

/** Nobody measures with more. */
const LONGEST_S = 600;
/** Silence is looked for in blocks that long, s: short against any stimulus, long enough for 1 Hz. */
const BLOCK_S = 0.02;
/** A block sounds where its power is not that far below that of the loudest one: 40 dB, above dither, below fades. */
const SOUNDS = 1e-4;
let latest: Stimulus | undefined;

/**
 * Samples of a stimulus, and which sweep it is: by what its step says, or recognised from the samples.
 *
 * @param source a recording (its first channel counts) or what a sweep is to be.
 * @returns the same object again while equal stimuli follow each other.
 * @throws BassloomError `stimulus-too-long`, `stimulus-silent`, those of `planSweep` and `decodeWav`.
 */
export function readStimulus(source: Recording | SweepSpec): Stimulus {
  const isRecording = 'kind' in source;
  const key = isRecording
    ? `${source.id} ${source.wav.byteLength} ${source.steps.length}`
    : JSON.stringify([source.startHz, source.endHz, source.seconds, source.sampleRateHz, source.levelDbfs]);
  if (latest?.key === key) return latest;
  latest = isRecording ? fromRecording(source, key) : fromSpec(source, key);
  return latest;
}

function fromSpec(spec: SweepSpec, key: string): Stimulus {
  const plan = planSweep(spec);
  const seconds = plan.totalSamples / plan.sampleRateHz;
  const label = `sweep ${spec.startHz}-${spec.endHz} Hz`;
  refuseLong(label, seconds);
  const { sampleRateHz, amplitude, leadInSamples, sweepSeconds } = plan;
  const startS = leadInSamples / sampleRateHz;
  const soundsS: Stimulus['soundsS'] = [startS, startS + sweepSeconds];
  return { key, label, samples: sweepSamples(plan), sampleRateHz, seconds, plan, amplitude, soundsS };
}

function fromRecording(recording: Recording, key: string): Stimulus {
  const { label, seconds } = recording;
  refuseLong(label, seconds);
  const { channels, sampleRateHz } = decodeWav(recording);
  const samples = channels[0];
  const { power, soundsS } = soundingPart(samples, sampleRateHz);
  if (power === 0) throw makeRefusal('stimulus-silent', { label }, { field: 'stimulus' });
  const plan = plannedIn(recording, samples.length) ?? recogniseSweep(samples, sampleRateHz);
  const amplitude = plan?.amplitude ?? Math.sqrt(2 * power);
  return { key, label, samples, sampleRateHz, seconds, plan, amplitude, soundsS };
}

/** Mean power of what sounds: silence before, after and in between makes a stimulus no softer. */
function soundingPart(samples: ArrayLike<number>, rateHz: number): Pick<Stimulus, 'soundsS'> & { power: number } {
  const length = Math.max(1, Math.round(BLOCK_S * rateHz));
  const powers = new Float64Array(Math.ceil(samples.length / length));
  for (let n = 0; n < samples.length; n++) powers[Math.floor(n / length)] += samples[n] ** 2 / length;
  const least = SOUNDS * powers.reduce((a, b) => Math.max(a, b), 0);
  const sounds = (power: number) => power > least;
  const sounding = powers.filter(sounds);
  return {
    power: sounding.reduce((sum, power) => sum + power, 0) / Math.max(1, sounding.length),
    soundsS: [
      (powers.findIndex(sounds) * length) / rateHz,
      Math.min(samples.length, (powers.findLastIndex(sounds) + 1) * length) / rateHz,
    ],
  };
}

/** The plan that the step of `makeSweep` stands for, where nothing was done to the sweep since. */
function plannedIn(recording: Recording, length: number): SweepPlan | undefined {
  const { steps, sampleRateHz } = recording;
  const [made] = stepsOf(recording, 'make sweep');
  if (!made || steps.length !== 1) return undefined;
  const plan = planSweep(made.with);
  return plan.totalSamples === length && plan.sampleRateHz === sampleRateHz ? plan : undefined;
}

function refuseLong(label: string, seconds: number): void {
  if (seconds <= LONGEST_S) return;
  throw makeRefusal('stimulus-too-long', { label, seconds, mostS: LONGEST_S }, { field: 'stimulus' });
}
