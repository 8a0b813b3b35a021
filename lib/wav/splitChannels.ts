import type { Recording } from '../model/curve';
import { chooseChannel } from './chooseChannel';

/**
 * Part a recording into one recording a channel, in their order.
 *
 * @throws BassloomError those of `chooseChannel`.
 *
 * @example
 * const [left, right] = splitChannels(recording);
 */
export function splitChannels(recording: Recording): Recording[] {
  return Array.from({ length: recording.channels }, (_, i) => chooseChannel(recording, i + 1));
}
