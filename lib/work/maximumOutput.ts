import type { MaximumOutputOptions } from '../analysis/maximumOutput/options';
import type { Recording } from '../model/curve';
import type { MaximumOutput } from '../model/findings';
import type { BurstSpec } from '../signal/burstSchedule';
import { runTask, type TaskOptions } from './runTask';

/**
 * Measure the maximum output beside the event loop: `measureMaximumOutput` in a worker thread.
 *
 * @param captures recordings of the bursts. @param stimulus what was played. @param options those of
 * `measureMaximumOutput`, with `onProgress` (0 to 1) and a `signal` that ends it.
 * @throws BassloomError as `measureMaximumOutput` does, `worker-failed`; the signal's reason where it was aborted.
 *
 * @example
 * const { centres } = await maximumOutput([capture], stimulus, { fullScaleDb: 124, measuredAtM: 1, place: 'half space' });
 */
export function maximumOutput(
  captures: Recording[],
  stimulus: Recording | BurstSpec,
  options: MaximumOutputOptions & TaskOptions = {},
): Promise<MaximumOutput> {
  const { onProgress, signal, ...own } = options;
  return runTask('maximumOutput', { captures, stimulus, options: own }, { onProgress, signal });
}
