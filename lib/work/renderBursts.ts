import type { Recording } from '../model/curve';
import type { BurstSpec } from '../signal/burstSchedule';
import type { SweepFileOptions } from '../signal/makeSweep';
import { runTask } from './runTask';

/**
 * Make tone bursts beside the event loop.
 *
 * @param spec that of `makeBursts`. @param options its file options, and a `signal` that ends it.
 * @throws BassloomError as `makeBursts` does, and as `runTask` does.
 *
 * @example
 * const bursts = await renderBursts({ sampleRateHz: 48000, fromHz: 20, toHz: 80 }, { format: 'pcm24' });
 */
export function renderBursts(
  spec: BurstSpec,
  options: SweepFileOptions & { signal?: AbortSignal } = {},
): Promise<Recording> {
  const { signal, ...own } = options;
  return runTask('makeBursts', { spec, options: own }, { signal });
}
