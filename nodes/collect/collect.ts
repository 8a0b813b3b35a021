import type { Measurement } from '../../lib/model/curve';
import { define } from '../define';
import type { Message } from '../nodeRed';
import { openCollector, settings } from './collector';
import { type Held, unitOf } from './session';

export = define({
  type: 'bassloom-collect',
  settings,
  open: openCollector,
  async run({ memory, message, measurements, findings, settings: { quietS } }) {
    if (message.reset) return memory.forget();
    if (message.payload !== undefined && !isBare(message)) {
      await memory.take(arrivals(measurements(), message.topic, findings.notes ?? []), message, quietS);
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

/** A note goes with the measurement whose label it begins with; others go with all that came along. */
function arrivals(measurements: Measurement[], topic: unknown, notes: string[]): Held[] {
  const ownerOf = (note: string) => measurements.findIndex(({ label }) => note.startsWith(`${label}: `));
  const owned = notes.map((note) => ({ note, owner: ownerOf(note) }));
  return measurements.map((measurement, i) => ({
    unit: unitOf(measurement, topic),
    measurement,
    notes: owned.filter(({ owner }) => owner === i || owner < 0).map(({ note }) => note),
  }));
}
