import type { Measurement } from '../../lib/model/curve';
import type { Message } from '../nodeRed';

/** The unit that a report is of: the topic, else the device of the measurements. */
export function topicOf({ topic }: Message, measurements: Measurement[]): string {
  if (typeof topic === 'string' && topic !== '') return topic;
  return measurements.find(({ about }) => about.device)?.about.device ?? 'unnamed';
}
