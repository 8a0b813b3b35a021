import { z } from 'zod';
import type { Curve } from './curve';
import type { Findings } from './findings';

/*
 * The same shapes as curve.ts and findings.ts, for programs: published as JSON Schema in dist/schemas and used by
 * tests. The annotations keep the two in step: a field that differs from the interface does not compile.
 */

const hz = z.number().positive().describe('Hz');
const db = z.number().describe('dB');
const maybe = <T extends z.ZodType>(schema: T) => schema.nullable();
const text = z.string();
const interval = z.tuple([hz, hz]).describe('[low, high] in Hz');
const caveats = z
  .array(text)
  .describe('why the numbers must not be taken at face value; empty where nothing speaks against them');

const about = z.strictObject({
  device: text.optional(),
  setting: text.optional(),
  driveDb: db.optional(),
  position: text.optional(),
  distanceM: z.number().optional(),
  takenAt: text.optional(),
  procedure: text.optional(),
});

/** Schema of a {@link Curve}. That columns are of equal length and frequencies rise is checked by `makeCurve`. */
export const curveSchema: z.ZodType<Curve> = z
  .strictObject({
    kind: z.literal('curve'),
    role: z.enum(['response', 'noise', 'correction']),
    id: text.describe('hash of the numbers'),
    label: text,
    frequencyHz: z.array(hz).min(1).describe('Hz, strictly rising'),
    levelDb: z.array(db).min(1).describe("dB re 20 uPa where scale is 'spl', dB re an unknown constant otherwise"),
    phaseDeg: z.array(z.number()).optional().describe('degrees; delay is falling phase'),
    noiseDb: z.array(db).optional().describe('level of the noise alone in the same bins'),
    scale: z.enum(['spl', 'relative']),
    about,
    steps: z.array(z.strictObject({ did: text, with: z.record(text, z.unknown()) })),
  })
  .describe('A level over frequency');

const ofCurve = { curve: text.describe('id of the curve'), label: text, about };
const range = { lowHz: hz, highHz: hz, octaves: z.number(), floorDb: db, ceilingDb: db };

const bandFit = z.strictObject({
  ...range,
  ...ofCurve,
  caveats,
  heightDb: db,
  masksHz: z.array(interval),
  withoutMasks: z.strictObject(range),
  runnerUp: z.strictObject(range).optional(),
  neededHeightDb: db.optional(),
  rangeHz: interval.optional(),
  referenceDb: db,
  points: z.array(z.strictObject({ downDb: db, lowHz: maybe(hz), highHz: maybe(hz) })),
});

const rollOff = z.strictObject({
  ...ofCurve,
  caveats,
  f0Hz: hz,
  q: maybe(z.number()),
  order: z.number(),
  slopeDbPerOctave: z.number(),
  rmsErrorDb: db,
  alignment: text,
});

const perBand = z.array(maybe(db)).describe('one value for each of bandsHz');
const cells = z.array(perBand).describe('[rung][band]');

const ladder = z.strictObject({
  caveats,
  device: text.optional(),
  setting: text.optional(),
  rungs: z.array(z.strictObject({ id: text, label: text, driveDb: db })).describe('lowest drive first'),
  bandsHz: z.array(hz).describe('exact base-10 third-octave centres'),
  levelDb: cells,
  compressionDb: cells,
  snrDb: cells,
  trusted: z.array(z.array(z.boolean())),
  referenceRung: z.array(maybe(z.number())),
  snrFrom: z.enum(['noise run', 'noise in the file', 'scatter between rungs', 'unknown']),
  onset: z.array(z.strictObject({ compressionDb: db, driveDb: perBand, outputDb: perBand })),
  ceiling: z.strictObject({ levelDb: perBand, reached: z.array(z.boolean()) }),
  step: z.strictObject({ commandedDb: db, measuredDb: db, uncertaintyDb: db, differs: z.boolean() }),
  stepUsed: z.enum(['commanded', 'measured']),
  repeatScatterDb: maybe(db),
  runGainDb: z.array(db),
  regions: z.array(
    z.strictObject({
      lowHz: hz,
      highHz: hz,
      onsetDriveDb: db,
      ceilingDb: db,
      kind: z.enum(['limiter', 'gradual']),
    }),
  ),
});

const roomFeature = z.strictObject({
  caveats,
  frequencyHz: hz,
  kind: z.enum(['dip', 'peak']),
  prominenceDb: db,
  depthDb: db,
  widthOctaves: z.number(),
  maskHz: interval,
  cause: z.strictObject({
    type: z.enum(['mode', 'interference', 'boundary', 'signature', 'listed', 'unexplained']),
    detail: text.optional(),
    predictedHz: hz.optional(),
    mismatchHz: z.number().optional(),
  }),
  confidence: z.number().min(0).max(1),
  seenIn: z.number(),
  of: z.number(),
});

const settingDifference = z.strictObject({
  caveats,
  device: text.optional(),
  a: text,
  b: text,
  curve: curveSchema,
  hingeHz: maybe(hz),
  asymptoteDb: maybe(db),
  slopeDbPerOctave: maybe(z.number()),
  at: z.array(z.strictObject({ frequencyHz: hz, differenceDb: db, trusted: z.boolean() })),
});

/** Schema of {@link Findings}, as in `findings.json` beside a report. */
export const findingsSchema: z.ZodType<Findings> = z
  .strictObject({
    bandFit: z.array(bandFit).optional(),
    rollOff: z.array(rollOff).optional(),
    ladder: z.array(ladder).optional(),
    roomFeatures: z.array(roomFeature).optional(),
    roomPrediction: z
      .strictObject({
        room: text,
        frequencyHz: z.array(hz),
        levelDb: z.array(db),
        schroederHz: maybe(hz),
        modesBelowSchroeder: maybe(z.number()),
      })
      .optional(),
    settingDifference: z.array(settingDifference).optional(),
    notes: z.array(text).optional(),
  })
  .describe('What the analyses found, one key each');
