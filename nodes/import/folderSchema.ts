import type { z as Zod } from 'zod';
import { procedureFields } from '../configs';
import { type Fields, numberWithin } from '../fields';
import { roomFields } from '../room/shapeRoom';

/** The name of the file in a watched folder that holds settings. */
export const FOLDER_FILE = 'bassloom.json';

/** What such a file may hold: the procedure and the room with the names of their dialogs, but places as three numbers. */
export function folderSchema(z: typeof Zod) {
  const { lengthM, widthM, heightM, decayS, temperatureC, name } = fromFields(z, roomFields);
  const sides = { lengthM, widthM, heightM };
  const metres = numberWithin(z, roomFields.sourceXM.limits ?? {});
  const place = z.tuple([metres, metres, metres], 'three numbers are needed: from the left, front and floor, metres');
  const optional = { name, decayS, temperatureC, source: place, microphone: place };
  const room = z.strictObject({ ...sides, ...optionals(optional) });
  const procedure = fromFields(z, procedureFields);
  const dips = z.array(numberWithin(z, { above: 0, max: 100000 }), 'a list of numbers is needed').min(1, 'it is empty');
  return z.strictObject({
    ...optionals({
      $schema: z.string(),
      title: procedure.name.describe('Title of the reports'),
      room: room.describe('The room, metres and seconds'),
      knownDipsHz: dips.describe('Frequencies of dips known to be the room’s, Hz'),
      smoothing: procedure.smoothing.describe('Width of smoothing, 1/n octave'),
      windowHeightDb: procedure.windowHeightDb.describe('Height of the window that a level range must fit, dB'),
      procedure: z.strictObject(optionals(procedure)).describe('How measurements are made'),
    }),
  });
}

/** The dialog's fields as a program writes them: numbers as numbers, within the dialog's limits. */
function fromFields<F extends Fields>(z: typeof Zod, fields: F): Record<keyof F, Zod.ZodType> {
  const schemaOf = ({ limits }: Fields[string]): Zod.ZodType =>
    limits ? numberWithin(z, limits) : z.string('text is needed').min(1, 'it is empty');
  const entries = Object.entries(fields).map(([name, field]) => [name, schemaOf(field)] as const);
  return Object.fromEntries(entries) as Record<keyof F, Zod.ZodType>;
}

function optionals<S extends Record<string, Zod.ZodType>>(shape: S): { [K in keyof S]: Zod.ZodOptional<S[K]> } {
  const entries = Object.entries(shape).map(([name, schema]) => [name, schema.optional()] as const);
  return Object.fromEntries(entries) as { [K in keyof S]: Zod.ZodOptional<S[K]> };
}

/** JSON Schema (draft 2020-12) of the file, as published with the package. */
export function folderJsonSchema(): object {
  const { z } = require('zod') as typeof import('zod');
  return { title: 'Settings of a watched folder', ...z.toJSONSchema(folderSchema(z)) };
}
