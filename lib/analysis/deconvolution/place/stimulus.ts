import type { Recording } from '../../../model/curve';
import { BassloomError } from '../../../model/errors';
import { stepsOf } from '../../../model/step';
import { recogniseSweep } from '../../../signal/recogniseSweep';
import { planSweep, type SweepPlan, type SweepSpec } from '../../../signal/sweepPlan';
import { sweepSamples } from '../../../signal/sweepSamples';
import { decodeWav } from '../../../wav/decodeWav';

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
  /** Peak of the sweep; of anything else, that of a sine of its root mean square. */
  amplitude: number;
}

/** Nobody measures with more. */
const LONGEST_S = 600;
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
  const { sampleRateHz, amplitude } = plan;
  return { key, label, samples: sweepSamples(plan), sampleRateHz, seconds, plan, amplitude };
}

function fromRecording(recording: Recording, key: string): Stimulus {
  const { label, seconds } = recording;
  refuseLong(label, seconds);
  const { channels, sampleRateHz } = decodeWav(recording);
  const samples = channels[0];
  let power = 0;
  for (let n = 0; n < samples.length; n++) power += samples[n] ** 2 / samples.length;
  if (power === 0) {
    throw new BassloomError(
      'stimulus-silent',
      `${label}: the stimulus is silent; give the file that was played, not its muted twin.`,
      { field: 'stimulus' },
    );
  }
  const plan = plannedIn(recording, samples.length) ?? recogniseSweep(samples, sampleRateHz);
  const amplitude = plan?.amplitude ?? Math.sqrt(2 * power);
  return { key, label, samples, sampleRateHz, seconds, plan, amplitude };
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
  throw new BassloomError(
    'stimulus-too-long',
    `${label}: the stimulus lasts ${Math.round(seconds)} s; more than ${LONGEST_S} s is no sweep to measure with. Give the file that was played.`,
    { field: 'stimulus' },
  );
}
