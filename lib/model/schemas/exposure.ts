import { z } from 'zod';
import { caveats, db, maybe, text } from '../schemaParts';

export const exposure = z.strictObject({
  caveats,
  levelDba: maybe(db),
  levelDbc: maybe(db),
  loudestDba: db.optional().describe('at the loudest moment of a sweep'),
  loudestDbc: db.optional().describe('at the loudest moment of a sweep'),
  from: z.strictObject({
    dba: maybe(z.enum(['stated', 'sweep'])),
    dbc: maybe(z.enum(['sweep'])),
    run: maybe(text),
    runs: z.number().int(),
  }),
  permittedSeconds: maybe(z.number()),
  measuredSeconds: maybe(z.number()),
});
