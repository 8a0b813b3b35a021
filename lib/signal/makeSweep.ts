import type { Recording } from '../model/curve';
import type { MadeSweep } from '../model/step';
import { makeRecording } from '../wav/makeRecording';
import { type WriteWavOptions, writeWav } from '../wav/writeWav';
import { caution } from '../words/caution';
import { DEFAULT_LEVEL_DBFS, planSweep, type SweepPlan, type SweepSpec } from './sweepPlan';
import { mutedTwin, sweepSamples } from './sweepSamples';

export interface SweepFileOptions {
  /** Samples of the WAV; 'pcm24' where left out. */
  format?: WriteWavOptions['format'];
}

/**
 * Make the sweep to be played: a synchronised exponential sweep between silences, as a mono WAV.
 *
 * @param spec range (Hz), duration (s), sample rate (Hz) and level (dBFS; -15 where left out: room for 12 dB of bass boost in the chain and 3 dB to spare).
 * @returns a stimulus; its step holds the spec and what came of it.
 * @throws BassloomError as `planSweep` does, and `bad-option` for an unknown format.
 *
 * Caution: set the volume low before the first run and raise it in steps; stop at any knock or rattle. The file carries
 * the same warning. The sweep, its fades and silences are those of `planSweep`.
 *
 * @example
 * writeFileSync('sweep.wav', makeSweep({ startHz: 5, endHz: 400, seconds: 20, sampleRateHz: 48000 }).wav);
 */
export function makeSweep(spec: SweepSpec, options: SweepFileOptions = {}): Recording {
  const plan = planSweep(spec);
  const { levelDbfs = DEFAULT_LEVEL_DBFS, ...rest } = spec;
  const name = `sweep ${spec.startHz}-${spec.endHz} Hz, ${levelDbfs} dBFS`;
  return record(
    'make sweep',
    name,
    sweepSamples(plan),
    { ...rest, levelDbfs },
    plan,
    options,
    `${name}. ${caution('sweep')}`,
  );
}

/**
 * Make the muted twin of a sweep: silence of its length, played in its place to record the noise.
 *
 * @param spec the sweep's. @throws BassloomError as `makeSweep` does.
 *
 * @example
 * makeMutedSweep({ startHz: 5, endHz: 400, seconds: 20, sampleRateHz: 48000 }).seconds // 24.2, as the sweep
 */
export function makeMutedSweep(spec: SweepSpec, options: SweepFileOptions = {}): Recording {
  const plan = planSweep(spec);
  const name = `silence for the sweep ${spec.startHz}-${spec.endHz} Hz`;
  return record('make muted sweep', name, mutedTwin(plan), { ...spec }, plan, options, `${name}, to record the noise`);
}

function record(
  did: 'make sweep' | 'make muted sweep',
  label: string,
  samples: Float64Array,
  spec: SweepSpec,
  plan: SweepPlan,
  options: SweepFileOptions,
  comment: string,
): Recording {
  const format = options.format ?? 'pcm24';
  const wav = writeWav({ sampleRateHz: plan.sampleRateHz, channels: [samples] }, { format, comment });
  const { rateSeconds, sweepSeconds, leadInSamples, sweepSamples: count } = plan;
  const made: MadeSweep = { ...spec, rateSeconds, sweepSeconds, leadInSamples, sweepSamples: count, format };
  return makeRecording(wav, { role: 'stimulus', label, steps: [{ did, with: made }] });
}
