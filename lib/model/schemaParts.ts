import { z } from 'zod';

/* What the schemas are made of; see schemas.ts. */

export const hz = z.number().positive().describe('Hz');
export const db = z.number().describe('dB');
export const maybe = <T extends z.ZodType>(schema: T) => schema.nullable();
export const text = z.string();
export const interval = z.tuple([hz, hz]).describe('[low, high] in Hz');
export const value = z.union([text, z.number(), z.boolean(), z.null()]);
export const caveat = z.strictObject({
  code: text.describe('stable, kebab-case'),
  severity: z.enum(['remark', 'doubt', 'warning']),
  where: z
    .strictObject({
      curve: text.optional(),
      device: text.optional(),
      setting: text.optional(),
      file: text.optional(),
      lines: z.array(z.number()).optional(),
      driveDb: z.array(db).optional(),
      rangesHz: z.array(interval).optional(),
      bandsHz: z.array(hz).optional(),
    })
    .optional(),
  values: z.record(text, value),
  because: z
    .strictObject({
      code: text,
      values: z.record(text, value).optional(),
      field: text.optional(),
      line: z.number().optional(),
      message: text.describe('in English'),
    })
    .optional()
    .describe('the refusal it tells of'),
  message: text.describe('in English'),
});
export const caveats = z
  .array(caveat)
  .describe('why the numbers must not be taken at face value; empty where nothing speaks against them');
