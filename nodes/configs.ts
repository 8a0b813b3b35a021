import type { Room } from '../lib';
import { config, type Field, number, text, type Values } from './fields';
import { readSettings } from './settings';

/** The fixed way of measuring. */
export const procedureFields = {
  name: text(),
  position: text(),
  distanceM: number({ above: 0, max: 100 }),
  fullScaleDb: number({ min: 0, max: 300 }),
  stepDb: number({ above: 0, max: 60 }),
  smoothing: number({ min: 1, max: 96 }),
  windowHeightDb: number({ above: 0, max: 60 }),
  referenceLowHz: number({ above: 0, max: 100000 }),
  referenceHighHz: number({ above: 0, max: 100000 }),
  temperatureC: number({ min: -40, max: 60 }),
};

export type Procedure = Values<typeof procedureFields>;

/** `msg.procedure` has the same names as the dialog of the procedure. */
export const procedure: Field<Procedure | undefined> = config((value, RED) =>
  readSettings(RED, procedureFields, value, {}),
);

/** A room, and what people call it. */
export type NamedRoom = Room & { name?: string };

/** `msg.room` is the library's Room; the library checks it when it is used. */
export const room: Field<NamedRoom | undefined> = config((value) => value as unknown as NamedRoom);
