import { z } from 'zod';
import { caveats, db, hz, maybe, text } from '../schemaParts';
import { cells, perBand } from './cells';

export const extent = z.enum(['none', 'bottom', 'parts', 'everywhere', 'unknown']);

export const ladder = z.strictObject({
  caveats,
  device: text.optional(),
  setting: text.optional(),
  scale: z.enum(['spl', 'relative']),
  rungs: z.array(z.strictObject({ id: text, label: text, driveDb: db })).describe('lowest drive first'),
  bandsHz: z.array(hz).describe('exact base-10 third-octave centres'),
  levelDb: cells,
  compressionDb: cells,
  snrDb: cells,
  trusted: z.array(z.array(z.boolean())),
  referenceRung: z.array(maybe(z.number())),
  snrFrom: z.enum(['noise run', 'noise in the file', 'scatter between rungs', 'unknown']),
  onset: z.array(z.strictObject({ compressionDb: db, driveDb: perBand, outputDb: perBand })),
  ceiling: z.strictObject({ levelDb: perBand, reached: z.array(z.boolean()) }),
  step: z.strictObject({
    commandedDb: db,
    measuredDb: maybe(db),
    uncertaintyDb: maybe(db),
    differs: maybe(z.boolean()),
  }),
  stepUsed: z.enum(['commanded', 'measured']),
  repeatScatterDb: maybe(db),
  runGainDb: z.array(db),
  breaks: z.array(
    z.strictObject({
      between: z.tuple([text, text]),
      offDb: db,
      what: z.enum(['all bands', 'some bands', 'not rising']),
      bandsHz: z.array(hz),
    }),
  ),
  commonLossDb: z.array(maybe(db)),
  extent,
  regions: z.array(
    z.strictObject({
      lowHz: hz,
      highHz: hz,
      onsetDriveDb: db,
      onsetToDriveDb: db,
      ceilingDb: db,
      kind: z.enum(['limiter', 'gradual']),
    }),
  ),
});
