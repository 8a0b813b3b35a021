import { type DeconvolveOptions, deconvolveCapture } from '../analysis/deconvolution/deconvolveCapture';
import { measureMaximumOutput } from '../analysis/maximumOutput/measureMaximumOutput';
import type { MaximumOutputOptions } from '../analysis/maximumOutput/options';
import type { Recording } from '../model/curve';
import type { ReportInput } from '../report/buildReport';
import type { ChartInput } from '../report/picture/chartInput';
import type { ChartOptions } from '../report/picture/chartOptions';
import { drawChart } from '../report/picture/drawChart';
import { drawSeen, type SeenInput } from '../report/picture/drawSeen';
import { type FormatOptions, reportInFormats } from '../report/reportInFormats';
import type { Run } from '../rig/bench';
import { playRig } from '../rig/sound/playRig';
import { soundFacts } from '../rig/sound/soundFacts';
import type { SoundRigSpec } from '../rig/sound/soundRigSpec';
import type { BurstSpec } from '../signal/burstSchedule';
import { makeBursts } from '../signal/makeBursts';
import { makeMutedSweep, makeSweep, type SweepFileOptions } from '../signal/makeSweep';
import type { SweepSpec } from '../signal/sweepPlan';
import type { Progress } from './progress';

interface DeconvolveInput {
  capture: Recording;
  stimulus: Recording | SweepSpec;
  options: DeconvolveOptions;
}

interface MaximumOutputInput {
  captures: Recording[];
  stimulus: Recording | BurstSpec;
  options: MaximumOutputOptions;
}

interface PlayInput {
  rig: SoundRigSpec;
  stimulus: Recording;
  run: Run;
}

interface SweepInput {
  spec: SweepSpec;
  options: SweepFileOptions;
  muted: boolean;
}

interface BurstsInput {
  spec: BurstSpec;
  options: SweepFileOptions;
}

/**
 * What the workers can do, by name. A task is a function of plain data that gives plain data: what `structuredClone`
 * can copy, with recordings and curves as they are. It may be asynchronous, and says how far it is (0 to 1). The sounds
 * in what it gives are handed over: it must keep none of them for the next time.
 */
export const tasks = {
  deconvolve: ({ capture, stimulus, options }: DeconvolveInput, progress: Progress) =>
    deconvolveCapture(capture, stimulus, options, progress),
  maximumOutput: ({ captures, stimulus, options }: MaximumOutputInput, progress: Progress) =>
    measureMaximumOutput(captures, stimulus, options, progress),
  playRig: ({ rig, stimulus, run }: PlayInput) => {
    const { capture, truth } = playRig(rig, stimulus, run);
    return { capture, facts: soundFacts(truth, stimulus) };
  },
  makeSweep: ({ spec, options, muted }: SweepInput) =>
    muted ? [makeSweep(spec, options), makeMutedSweep(spec, options)] : [makeSweep(spec, options)],
  makeBursts: ({ spec, options }: BurstsInput) => makeBursts(spec, options),
  drawChart: ({ input, options }: { input: ChartInput; options: ChartOptions }) => drawChart(input, options),
  drawSeen: ({ input, options }: { input: SeenInput; options: ChartOptions }) => drawSeen(input, options),
  buildReport: ({ input, options }: { input: ReportInput; options: FormatOptions }) => reportInFormats(input, options),
};

type Tasks = typeof tasks;
export type TaskName = keyof Tasks;
export type TaskInput<N extends TaskName> = Parameters<Tasks[N]>[0];
export type TaskResult<N extends TaskName> = Awaited<ReturnType<Tasks[N]>>;

/** A task whose types are not looked at. */
export type AnyTask = (input: unknown, progress: Progress) => unknown;
