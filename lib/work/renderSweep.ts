import type { Recording } from '../model/curve';
import type { SweepFileOptions } from '../signal/makeSweep';
import { planSweep, type SweepSpec } from '../signal/sweepPlan';
import { runTask } from './runTask';

/**
 * Make a sweep, and its muted twin where wanted, beside the event loop.
 *
 * @param spec that of `makeSweep`. @param options its file options, `muted` for the twin, and a `signal` that ends it.
 * @returns the sweep, then the twin, as `makeSweep` and `makeMutedSweep` make them.
 * @throws BassloomError as `makeSweep` does, at once where the spec is wrong, and as `runTask` does.
 *
 * @example
 * const [sweep, silence] = await renderSweep({ startHz: 5, endHz: 400, seconds: 20, sampleRateHz: 48000 }, { muted: true });
 */
export async function renderSweep(
  spec: SweepSpec,
  options: SweepFileOptions & { muted?: boolean; signal?: AbortSignal } = {},
): Promise<Recording[]> {
  planSweep(spec);
  const { muted = false, signal, ...own } = options;
  return await runTask('makeSweep', { spec, options: own, muted }, { signal });
}
