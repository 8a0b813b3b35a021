import { z } from 'zod';
import type { Curve, Recording } from '../curve';
import { db, hz, text } from '../schemaParts';
import { stepSchema } from '../stepSchema';

/*
 * The same shapes as curve.ts and findings.ts, for programs: published as JSON Schema in dist/schemas and used by
 * tests. The annotations keep the two in step: a field that differs from the interface does not compile.
 */

export const about = z.strictObject({
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
