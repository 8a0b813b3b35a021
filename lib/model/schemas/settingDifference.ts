import { z } from 'zod';
import { caveats, db, hz, maybe, text } from '../schemaParts';
import { curveSchema } from './curve';

const comparedRun = z.strictObject({ curve: text, driveDb: maybe(db) });

export const settingDifference = z.strictObject({
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
