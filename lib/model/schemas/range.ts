import { z } from 'zod';
import { caveats, db, hz, interval, maybe, text } from '../schemaParts';
import { about } from './curve';

const ofCurve = { curve: text.describe('id of the curve'), label: text, about };
const range = { lowHz: hz, highHz: hz, octaves: z.number(), floorDb: db, ceilingDb: db };

export const bandFit = z.strictObject({
  ...range,
  ...ofCurve,
  caveats,
  heightDb: db,
  masksHz: z.array(interval),
  withoutMasks: z.strictObject(range),
  runnerUp: z.strictObject(range).optional(),
  neededHeightDb: db.optional(),
  rangeHz: interval.optional(),
  referenceDb: db,
  points: z.array(
    z.strictObject({
      downDb: db,
      lowHz: maybe(hz),
      highHz: maybe(hz),
      lowDipsHz: z.array(hz).optional(),
      highDipsHz: z.array(hz).optional(),
    }),
  ),
});

export const rollOff = z.strictObject({
  ...ofCurve,
  caveats,
  f0Hz: maybe(hz),
  q: maybe(z.number()),
  order: z.number(),
  slopeDbPerOctave: z.number(),
  rangeHz: interval,
  rmsErrorDb: db,
  alignment: maybe(text),
});
