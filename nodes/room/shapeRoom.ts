import { BassloomError } from '../../lib/model/errors';
import type { NamedRoom } from '../configs';
import { number, text, type Values } from '../fields';

const side = number({ above: 0, max: 200 });
const place = number({ min: 0, max: 200 });

/** The dialog of a room: three numbers for each place. */
export const roomFields = {
  name: text(),
  lengthM: side,
  widthM: side,
  heightM: side,
  decayS: number({ above: 0, max: 20 }),
  temperatureC: number({ min: -40, max: 60 }),
  sourceXM: place,
  sourceYM: place,
  sourceZM: place,
  microphoneXM: place,
  microphoneYM: place,
  microphoneZM: place,
};

/**
 * The dialog's fields as the library's room, checked.
 *
 * @throws BassloomError `bad-setting` and what the library says of a room.
 */
export function shapeRoom({ name, lengthM, widthM, heightM, ...rest }: Values<typeof roomFields>): NamedRoom {
  const source = placeOf('source', rest.sourceXM, rest.sourceYM, rest.sourceZM);
  const microphone = placeOf('microphone', rest.microphoneXM, rest.microphoneYM, rest.microphoneZM);
  const { decayS, temperatureC } = rest;
  const here: NamedRoom = {
    name,
    lengthM: needed('lengthM', lengthM),
    widthM: needed('widthM', widthM),
    heightM: needed('heightM', heightM),
    ...(decayS !== undefined && { decayS }),
    ...(temperatureC !== undefined && { temperatureC }),
    ...(source && { source }),
    ...(microphone && { microphone }),
  };
  const { checkRoom } = require('../../lib/room/room') as typeof import('../../lib/room/room');
  checkRoom(here);
  return here;
}

function needed(field: string, value: number | undefined): number {
  if (value !== undefined) return value;
  throw new BassloomError('bad-setting', `Setting "${field}" of the room is empty; metres are needed.`, { field });
}

function placeOf(name: string, ...xyz: (number | undefined)[]): [number, number, number] | undefined {
  const missing = xyz.indexOf(undefined);
  if (missing < 0) return xyz as [number, number, number];
  if (xyz.every((value) => value === undefined)) return undefined;
  const field = `${name}${'XYZ'[missing]}M`;
  throw new BassloomError('bad-setting', `Setting "${field}" of the room is empty; a place needs all three.`, {
    field,
  });
}
