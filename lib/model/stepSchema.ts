import { z } from 'zod';
import { caveat, db, hz, interval, text } from './schemaParts';
import type { Step, StepName, StepOf } from './step';

const count = z.number().int().nonnegative();
const seconds = z.number().positive().describe('s');
const format = z.enum(['pcm16', 'pcm24', 'pcm32', 'float32', 'float64']);

const textImport = z.strictObject({
  name: text.optional(),
  delimiter: text,
  decimal: z.enum(['.', ',']),
  columns: z.record(text, count).describe('by what is in them, the first being 1'),
  frequencyUnit: z.enum(['Hz', 'kHz', 'mHz', 'MHz', 'rad/s']),
  levelUnit: z.enum(['dB', 'linear', 'V', 'mV', 'Pa', 'mPa', 'uPa']),
});
const wavImport = z.strictObject({ name: text.optional(), encoding: z.enum(['pcm', 'float']), bits: count });
const madeSweep = z.strictObject({
  startHz: hz,
  endHz: hz,
  seconds,
  sampleRateHz: hz,
  levelDbfs: db.optional(),
  rateSeconds: seconds,
  sweepSeconds: seconds,
  leadInSamples: count,
  sweepSamples: count,
  format,
});
const madeBursts = z.strictObject({
  sampleRateHz: hz,
  fromHz: hz,
  toHz: hz,
  lowestDbfs: db,
  highestDbfs: db,
  stepDb: db,
  gapSeconds: z.number(),
  bursts: count,
  format,
});
const deconvolved = z.strictObject({
  capture: text.describe('id of the recording'),
  stimulus: text,
  channel: count.optional(),
  amplitudeDbfs: db,
  fullScaleDb: db.optional(),
  delayMs: z.number(),
  delayFrom: z.enum(['phase', 'first arrival', 'energy']),
  delayUncertaintyMs: z.number().optional(),
  clockPpm: z.number().optional(),
  noiseFrom: text,
  stimulusAtSample: z.number().optional(),
  warnings: z.array(caveat),
  verdict: z.enum(['good', 'doubtful', 'bad']),
});
const captures = z
  .array(
    z.strictObject({ capture: text, label: text, verdict: z.enum(['doubtful', 'bad']), warnings: z.array(caveat) }),
  )
  .optional()
  .describe('the bad and doubtful captures behind the curves that were joined');

const KNOWN: { [N in StepName]: z.ZodType<StepOf<N>['with']> } = {
  import: z.union([textImport, wavImport]),
  'choose channel': z.strictObject({ channel: count, of: count }),
  'make sweep': madeSweep,
  'make muted sweep': madeSweep,
  'make bursts': madeBursts,
  'play through virtual rig': z.strictObject({ stimulus: text, seed: z.number(), take: z.number() }),
  deconvolve: deconvolved,
  calibrate: z.strictObject({ fullScaleDb: db }),
  'microphone correction': z.strictObject({ correction: text, id: text, extrapolatedHz: z.array(interval).optional() }),
  'attach noise': z.strictObject({ noise: text, id: text, knownHz: interval.optional(), captures }),
  smooth: z.strictObject({ fraction: z.number().positive() }),
  average: z.strictObject({ method: z.enum(['power', 'decibel', 'vector']), curves: z.array(text), captures }),
  bridge: z.strictObject({ masksHz: z.array(interval) }),
  'frequency weighting': z.strictObject({ weighting: z.enum(['A', 'C', 'Z']) }),
  difference: z.strictObject({ a: text, b: text, idA: text, idB: text, drivenDb: db, offsetDb: db.optional() }),
};

const names = Object.keys(KNOWN) as StepName[];
const known = names.map((did) => z.strictObject({ did: z.literal(did), with: KNOWN[did] }));
/** What a flow of one's own did, under whatever name is not one of these. */
const own = z.looseObject({ did: z.string().regex(new RegExp(`^(?!(?:${names.join('|')})$)`)) });

/** Schema of a {@link Step}. */
export const stepSchema = z
  .union([...known, own])
  .describe('what was done to the numbers, and with which settings') as unknown as z.ZodType<Step>;
