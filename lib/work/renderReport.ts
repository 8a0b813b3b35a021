import type { Measurement } from '../model/curve';
import type { Report, ReportInput } from '../report/buildReport';
import { runTask } from './runTask';

const NO_SOUND = new Uint8Array(0);

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
  return await runTask('buildReport', { ...input, measurements: input.measurements.map(withoutSound) }, options);
}

function withoutSound(measurement: Measurement): Measurement {
  return measurement.kind === 'recording' ? { ...measurement, wav: NO_SOUND } : measurement;
}
