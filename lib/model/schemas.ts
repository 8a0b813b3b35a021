import { z } from 'zod';
import type { Curve, Recording } from './curve';
import type { Findings } from './findings';
import { caveat, caveats, db, hz, interval, maybe, text, value } from './schemaParts';
import { stepSchema } from './stepSchema';

/*
 * The same shapes as curve.ts and findings.ts, for programs: published as JSON Schema in dist/schemas and used by
 * tests. The annotations keep the two in step: a field that differs from the interface does not compile.
 */

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
    role: z.enum(['response', 'noise', 'correction', 'harmonic']),
    order: z.number().int().min(2).optional().describe('which harmonic; only of harmonics'),
    id: text.describe('hash of the numbers'),
    label: text,
    frequencyHz: z.array(hz).min(1).describe('Hz, strictly rising'),
    levelDb: z.array(db).min(1).describe("dB re 20 uPa where scale is 'spl', dB re an unknown constant otherwise"),
    phaseDeg: z.array(z.number()).optional().describe('degrees; delay is falling phase'),
    noiseDb: z.array(db).optional().describe('level of the noise alone in the same bins'),
    scale: z.enum(['spl', 'relative']),
    about,
    steps: z.array(stepSchema),
  })
  .describe('A level over frequency');

/** Schema of a {@link Recording}; in JSON a Buffer is written as Node.js writes it. */
export const recordingSchema: z.ZodType<Recording> = z
  .strictObject({
    kind: z.literal('recording'),
    role: z.enum(['capture', 'stimulus', 'impulse', 'programme']),
    id: text.describe('hash of the WAV file'),
    label: text,
    wav: z.custom<Uint8Array>((value) => value instanceof Uint8Array, 'the bytes of a WAV file'),
    sampleRateHz: hz,
    channels: z.number().int().positive(),
    seconds: z.number().positive(),
    about,
    steps: z.array(stepSchema),
  })
  .describe('A sound, kept as a WAV file');

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
  points: z.array(
    z.strictObject({
      downDb: db,
      lowHz: maybe(hz),
      highHz: maybe(hz),
      lowDipsHz: z.array(hz).optional(),
      highDipsHz: z.array(hz).optional(),
    }),
  ),
});

const rollOff = z.strictObject({
  ...ofCurve,
  caveats,
  f0Hz: maybe(hz),
  q: maybe(z.number()),
  order: z.number(),
  slopeDbPerOctave: z.number(),
  rangeHz: interval,
  rmsErrorDb: db,
  alignment: maybe(text),
});

const perBand = z.array(maybe(db)).describe('one value for each of bandsHz');
const cells = z.array(perBand).describe('[rung][band]');

const extent = z.enum(['none', 'bottom', 'parts', 'everywhere', 'unknown']);

const ladder = z.strictObject({
  caveats,
  device: text.optional(),
  setting: text.optional(),
  scale: z.enum(['spl', 'relative']),
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
  step: z.strictObject({
    commandedDb: db,
    measuredDb: maybe(db),
    uncertaintyDb: maybe(db),
    differs: maybe(z.boolean()),
  }),
  stepUsed: z.enum(['commanded', 'measured']),
  repeatScatterDb: maybe(db),
  runGainDb: z.array(db),
  breaks: z.array(
    z.strictObject({
      between: z.tuple([text, text]),
      offDb: db,
      what: z.enum(['all bands', 'some bands', 'not rising']),
      bandsHz: z.array(hz),
    }),
  ),
  commonLossDb: z.array(maybe(db)),
  extent,
  regions: z.array(
    z.strictObject({
      lowHz: hz,
      highHz: hz,
      onsetDriveDb: db,
      onsetToDriveDb: db,
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
    values: z.record(text, value).optional(),
    detail: text.optional(),
    predictedHz: hz.optional(),
    mismatchHz: z.number().optional(),
  }),
  belongsTo: z.enum(['room', 'unit', 'unknown']),
  confidence: z.number().min(0).max(1),
  seenIn: z.number(),
  of: z.number(),
});

const comparedRun = z.strictObject({ curve: text, driveDb: maybe(db) });

const settingDifference = z.strictObject({
  caveats,
  device: text.optional(),
  a: text,
  b: text,
  runs: z.strictObject({ a: comparedRun, b: comparedRun }),
  matchedBy: z.enum(['drive', 'level']),
  curve: curveSchema,
  kind: z.enum(['shelf', 'level', 'low-pass', 'other', 'none', 'unknown']),
  levelDb: maybe(db),
  hingeHz: maybe(hz),
  asymptoteDb: maybe(db),
  slopeDbPerOctave: maybe(z.number()),
  at: z.array(z.strictObject({ frequencyHz: hz, differenceDb: db, trusted: z.boolean() })),
});

const cell = z.array(z.array(z.boolean())).describe('[rung][band]');

const distortion = z.strictObject({
  caveats,
  device: text.optional(),
  setting: text.optional(),
  rungs: z.array(z.strictObject({ curve: text, label: text, driveDb: db })).describe('lowest drive first'),
  bandsHz: z.array(hz).describe('exact base-10 third-octave centres of the fundamental'),
  thdToOrder: z.number(),
  thdPercent: cells,
  harmonics: z.array(z.strictObject({ order: z.number(), levelDb: cells })).describe('dB re the fundamental'),
  noisePercent: cells,
  trusted: cell,
  levelDb: cells,
  scale: z.enum(['spl', 'relative']),
  passes: z.array(
    z.strictObject({ percent: z.number(), driveDb: perBand, levelDb: perBand, reached: z.array(z.boolean()) }),
  ),
});

const stops = ['distortion', 'compression', 'schedule', 'noise', 'clipping'] as const;
const maximumOutput = z.strictObject({
  caveats,
  device: text.optional(),
  setting: text.optional(),
  recordings: z.array(text),
  limits: z.array(z.strictObject({ fromOrder: z.number(), toOrder: maybe(z.number()), limitDb: db })),
  scale: z.enum(['spl', 'relative']),
  measuredAtM: maybe(z.number()),
  centres: z.array(
    z.strictObject({
      centreHz: hz,
      driveDb: maybe(db),
      levelAtMicrophoneDb: maybe(db),
      peakAt1mDb: maybe(db),
      rmsAt2mDb: maybe(db),
      stoppedBy: z.enum(stops),
      harmonic: z.strictObject({ order: z.number(), levelDb: db, limitDb: db }).optional(),
      bursts: z.array(
        z.strictObject({ driveDb: db, levelDb: maybe(db), passed: z.boolean(), harmonicsDb: z.array(maybe(db)) }),
      ),
      trusted: z.boolean(),
    }),
  ),
  averages: z.array(
    z.strictObject({
      name: text,
      centresHz: z.array(hz),
      levelAtMicrophoneDb: maybe(db),
      peakAt1mDb: maybe(db),
      rmsAt2mDb: maybe(db),
      atLeast: z.boolean(),
    }),
  ),
  assumption: z.strictObject({
    place: z.enum(['free field', 'half space', 'room', 'unknown']),
    measuredAtM: z.array(z.number().positive()),
    calibrated: z.boolean(),
  }),
});

const captureQuality = z.strictObject({
  recording: text.describe('id of the recording'),
  label: text,
  about,
  verdict: z.enum(['good', 'doubtful', 'bad']),
  clippedSamples: z.number(),
  clippedAtS: maybe(z.number()),
  truncatedAtHz: maybe(hz),
  missedBelowHz: maybe(hz),
  humHz: z.array(z.strictObject({ frequencyHz: hz, levelDb: db })),
  peakDbfs: db,
  snrDb: z.strictObject({ frequencyHz: z.array(hz), db: z.array(db) }),
  clockPpm: maybe(z.number()),
  clockUncertaintyPpm: maybe(z.number()),
  ratesHz: z.strictObject({ capture: hz, stimulus: hz }).optional(),
  repeatability: z.strictObject({ take: text, worstDb: db, atHz: hz, medianDb: db }).optional(),
  warnings: z.array(caveat),
});

const exposure = z.strictObject({
  caveats,
  levelDba: maybe(db),
  levelDbc: maybe(db),
  loudestDba: db.optional().describe('at the loudest moment of a sweep'),
  loudestDbc: db.optional().describe('at the loudest moment of a sweep'),
  from: z.strictObject({
    dba: maybe(z.enum(['stated', 'sweep'])),
    dbc: maybe(z.enum(['sweep'])),
    run: maybe(text),
    runs: z.number().int(),
  }),
  permittedSeconds: maybe(z.number()),
  measuredSeconds: maybe(z.number()),
});

const statement = { code: text, values: z.record(text, value), text, figure: text.optional() };

const conclusions = z.strictObject({
  settings: z.array(
    z.strictObject({
      device: text.optional(),
      setting: text.optional(),
      shown: maybe(
        z.strictObject({
          curve: text,
          label: text,
          driveDb: maybe(db),
          why: z.enum(['only run', 'equal drive', 'least compressed', 'quietest trusted', 'quietest']),
        }),
      ),
      extent: maybe(extent),
      onsets: z.array(z.strictObject({ compressionDb: db, bandHz: hz, driveDb: db, levelDb: maybe(db) })),
      clean: z.array(z.strictObject({ percent: z.number(), lowHz: hz, highHz: hz, levelDb: db, atLeast: z.boolean() })),
      passes: z.array(
        z.strictObject({ percent: z.number(), bandHz: hz, driveDb: db, levelDb: maybe(db), atMost: z.boolean() }),
      ),
      highestThd: maybe(
        z.strictObject({ curve: text, driveDb: db, bandHz: hz, percent: z.number(), order: maybe(z.number()) }),
      ),
      shape: maybe(
        z.strictObject({
          kind: z.enum(['kept', 'loses bottom', 'gains bottom', 'bends', 'unknown']),
          lowDriveDb: db,
          highDriveDb: db,
          at: z.array(z.strictObject({ frequencyHz: hz, changeDb: maybe(db), trusted: z.boolean() })),
        }),
      ),
    }),
  ),
  captures: z.strictObject({ judged: z.number(), doubtful: z.array(text), bad: z.array(text) }),
  headlines: z.array(z.strictObject({ ...statement, doubt: text.optional() })),
  details: z.array(
    z.strictObject({
      ...statement,
      topic: z.enum(['range', 'switch', 'limits', 'distortion', 'output', 'shape', 'room', 'trust', 'ears']),
      warning: z.boolean().optional(),
    }),
  ),
});

/** Schema of {@link Findings}, as in `findings.json` beside a report. */
export const findingsSchema: z.ZodType<Findings> = z
  .strictObject({
    schemaVersion: z.literal(2).optional(),
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
    distortion: z.array(distortion).optional(),
    maximumOutput: z.array(maximumOutput).optional(),
    captureQuality: z.array(captureQuality).optional(),
    exposure: exposure.optional(),
    notes: z.array(caveat).optional(),
    conclusions: conclusions.optional(),
  })
  .describe('What the analyses found, one key each');
