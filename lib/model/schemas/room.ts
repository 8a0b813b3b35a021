import { z } from 'zod';
import { caveats, db, hz, interval, maybe, text, value } from '../schemaParts';

export const roomFeature = z.strictObject({
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

export const roomPrediction = z.strictObject({
  room: text,
  frequencyHz: z.array(hz),
  levelDb: z.array(db),
  schroederHz: maybe(hz),
  modesBelowSchroeder: maybe(z.number()),
});
