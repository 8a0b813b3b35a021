import type { RedApi } from '../nodeRed';
import { onSeen, pin } from '../seen';
import { tellPicture } from './tellPicture';
import { tellReport } from './tellReport';
import { tellSeen } from './tellSeen';

/** At most one event to the editors in that time, ms: a flow that runs fast is looked at, not followed. */
const PAUSE_MS = 250;
const TOPIC = 'bassloom/seen';

/** What the sidebar asks, and the event that tells it to ask anew: the nodes that put something out since the last one. */
export = (RED: RedApi): void => {
  RED.httpAdmin.get('/bassloom/seen', RED.auth.needsPermission('flows.read'), tellSeen);
  RED.httpAdmin.get('/bassloom/seen/picture', RED.auth.needsPermission('flows.read'), tellPicture);
  RED.httpAdmin.get('/bassloom/seen/report', RED.auth.needsPermission('flows.read'), tellReport);
  RED.httpAdmin.get('/bassloom/seen/pin', RED.auth.needsPermission('flows.read'), ({ query }, response) => {
    response.json({ token: pin(query.id ?? '') });
  });
  const waiting = new Map<string, number>();
  let timer: NodeJS.Timeout | undefined;
  const publish = (): void => {
    timer = undefined;
    RED.comms.publish(TOPIC, Object.fromEntries(waiting), false);
    waiting.clear();
  };
  onSeen((id, stamp) => {
    waiting.set(id, stamp);
    timer ??= setTimeout(publish, PAUSE_MS);
    timer.unref();
  });
};
