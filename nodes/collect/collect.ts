import { define } from '../define';
import type { Message } from '../nodeRed';
import { arrivals } from './arrivals';
import { openCollector, settings } from './collector';
import type { RefusedFile } from './session';

export = define({
  type: 'bassloom-collect',
  settings,
  open: openCollector,
  async run({ memory, message, measurements, findings, settings: { quietS } }) {
    const { reset, through, inbox, topic, sources, flush, complete } = message;
    if (reset) return memory.forget();
    if (through !== undefined) {
      await memory.through(String(topic ?? ''), (through as { code?: string } | null)?.code);
      return undefined;
    }
    if (inbox) {
      await memory.hear(inbox as { gone?: string[]; refused?: RefusedFile[] }, quietS);
    } else if (message.payload !== undefined && !isBare(message)) {
      await memory.take(arrivals(measurements(), topic, findings, sources), message, quietS);
    }
    if (flush || complete) await memory.passAllOn();
    return undefined;
  },
});

/** A flush or complete message may come with no measurements at all. */
function isBare({ payload, flush, complete }: Message): boolean {
  const holdsMeasurements = typeof payload === 'object' && payload !== null;
  return Boolean(flush || complete) && !holdsMeasurements;
}
