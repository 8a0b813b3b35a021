import { z } from 'zod';
import type { Findings } from './findings';
import { caveat } from './schemaParts';
import { captureQuality } from './schemas/capture';
import { conclusions } from './schemas/conclusions';
import { exposure } from './schemas/exposure';
import { ladder } from './schemas/ladder';
import { bandFit, rollOff } from './schemas/range';
import { roomFeature, roomPrediction } from './schemas/room';
import { settingDifference } from './schemas/settingDifference';
import { distortion, maximumOutput } from './schemas/sound';

export { curveSchema, recordingSchema } from './schemas/curve';

/** Schema of {@link Findings}, as in `findings.json` beside a report. */
export const findingsSchema: z.ZodType<Findings> = z
  .strictObject({
    schemaVersion: z.literal(2).optional(),
    bandFit: z.array(bandFit).optional(),
    rollOff: z.array(rollOff).optional(),
    ladder: z.array(ladder).optional(),
    roomFeatures: z.array(roomFeature).optional(),
    roomPrediction: roomPrediction.optional(),
    settingDifference: z.array(settingDifference).optional(),
    distortion: z.array(distortion).optional(),
    maximumOutput: z.array(maximumOutput).optional(),
    captureQuality: z.array(captureQuality).optional(),
    exposure: exposure.optional(),
    notes: z.array(caveat).optional(),
    conclusions: conclusions.optional(),
  })
  .describe('What the analyses found, one key each');
