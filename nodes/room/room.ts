import { defineConfig } from '../defineConfig';
import type { RedApi } from '../nodeRed';
import { roomFields, shapeRoom } from './shapeRoom';
import { tellModes } from './tellModes';

const register = defineConfig('bassloom-room', roomFields, shapeRoom);

export = (RED: RedApi): void => {
  register(RED);
  RED.httpAdmin.get('/bassloom/modes', RED.auth.needsPermission('flows.read'), tellModes);
};
