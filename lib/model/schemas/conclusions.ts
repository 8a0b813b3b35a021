import { z } from 'zod';
import { db, hz, maybe, text, value } from '../schemaParts';
import { extent } from './ladder';

const statement = { code: text, values: z.record(text, value), text, figure: text.optional() };

export const conclusions = z.strictObject({
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
      freeFromHz: maybe(z.number()),
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
