import { BassloomError } from '../../lib/model/errors';
import type { NamedRoom } from '../configs';
import { defineConfig } from '../defineConfig';
import { number, text } from '../fields';
import type { AdminRequest, AdminResponse, RedApi } from '../nodeRed';

const side = number({ above: 0, max: 200 });
const place = number({ min: 0, max: 200 });

const fields = {
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

const register = defineConfig('bassloom-room', fields, ({ name, lengthM, widthM, heightM, ...rest }): NamedRoom => {
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
});

export = (RED: RedApi): void => {
  register(RED);
  RED.httpAdmin.get('/bassloom/modes', RED.auth.needsPermission('flows.read'), tellModes);
};

const UP_TO_HZ = 200;

/** Tell the dialog what modes a room has. */
function tellModes({ query }: AdminRequest, response: AdminResponse): void {
  const [lengthM, widthM, heightM] = [query.lengthM, query.widthM, query.heightM].map(Number);
  const { roomModes } = require('../../lib') as typeof import('../../lib');
  const temperatureC = query.temperatureC ? Number(query.temperatureC) : undefined;
  try {
    const modes = roomModes({ lengthM, widthM, heightM, temperatureC }, { toHz: UP_TO_HZ });
    const lowestHz = modes.slice(0, 3).map((mode) => mode.frequencyHz);
    response.json({ upToHz: UP_TO_HZ, count: modes.length, lowestHz });
  } catch (problem) {
    response.status(400).json({ message: (problem as Error).message });
  }
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
