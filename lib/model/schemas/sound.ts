import { z } from 'zod';
import { caveats, db, hz, maybe, text } from '../schemaParts';
import { cells, perBand } from './cells';

const cell = z.array(z.array(z.boolean())).describe('[rung][band]');

export const distortion = z.strictObject({
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
export const maximumOutput = z.strictObject({
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
