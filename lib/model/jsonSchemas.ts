import { z } from 'zod';
import { curveSchema, findingsSchema } from './schemas';

/** JSON Schema (draft 2020-12) of a curve, as published with the package. */
export function curveJsonSchema(): object {
  return { title: 'Curve', ...z.toJSONSchema(curveSchema) };
}

/** JSON Schema (draft 2020-12) of findings, as in `findings.json` beside a report. */
export function findingsJsonSchema(): object {
  return { title: 'Findings', ...z.toJSONSchema(findingsSchema) };
}
