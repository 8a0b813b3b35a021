import { z } from 'zod';
import { curveSchema, findingsSchema, recordingSchema } from './schemas';

/** JSON Schema (draft 2020-12) of a curve, as published with the package. */
export function curveJsonSchema(): object {
  return { title: 'Curve', ...z.toJSONSchema(curveSchema) };
}

/** JSON Schema (draft 2020-12) of findings, as in `findings.json` beside a report. */
export function findingsJsonSchema(): object {
  return { title: 'Findings', ...z.toJSONSchema(findingsSchema) };
}

/** JSON Schema (draft 2020-12) of a recording; `wav` holds bytes, which JSON Schema has no word for. */
export function recordingJsonSchema(): object {
  return { title: 'Recording', ...z.toJSONSchema(recordingSchema, { unrepresentable: 'any' }) };
}
