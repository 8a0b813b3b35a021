import { expect } from 'vitest';
import type { CaveatPlace, CaveatValues } from '../lib/model/caveat';

/** A caveat that has this code, and at least these values and this place. */
export const note = (code: string, values: CaveatValues = {}, where?: CaveatPlace) =>
  expect.objectContaining({
    code,
    values: expect.objectContaining(values),
    ...(where && { where: expect.objectContaining(where) }),
  });
