import { z } from 'zod';
import { caveat, db, hz, maybe, text } from '../schemaParts';
import { about } from './curve';

export const captureQuality = z.strictObject({
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
