import { define } from '../define';
import type { Message } from '../nodeRed';
import { arrivals } from './arrivals';
import { openCollector, settings } from './collector';

export = define({
  type: 'bassloom-collect',
  settings,
  open: openCollector,
  async run({ memory, message, measurements, findings, settings: { quietS } }) {
    if (message.reset) return memory.forget();
    if (message.payload !== undefined && !isBare(message)) {
      await memory.take(arrivals(measurements(), message.topic, findings), message, quietS);
    }
    if (message.flush || message.complete) await memory.passOn();
    return undefined;
  },
});

/** A flush or complete message may come with no measurements at all. */
function isBare({ payload, flush, complete }: Message): boolean {
  const holdsMeasurements = typeof payload === 'object' && payload !== null;
  return Boolean(flush || complete) && !holdsMeasurements;
}
