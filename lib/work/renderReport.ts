import type { Report, ReportInput } from '../report/buildReport';
import { runTask } from './runTask';
import { withoutSounds } from './withoutSounds';

/**
 * Write a report beside the event loop.
 *
 * @param input that of `buildReport`. @param options a `signal` that ends it.
 * @returns what `buildReport` gives for the same input.
 * @throws BassloomError as `runTask` does.
 *
 * Notes: a report names recordings but does not listen to them, so their sounds are not handed over.
 *
 * @example
 * const { html } = await renderReport({ topic: 'Unit A', measurements: [curve], findings: {} });
 */
export async function renderReport(input: ReportInput, options: { signal?: AbortSignal } = {}): Promise<Report> {
  return await runTask('buildReport', { ...input, measurements: withoutSounds(input.measurements) }, options);
}
