import type { ReportInput } from '../report/buildReport';
import type { FormatOptions, FormattedReport } from '../report/reportInFormats';
import { runTask } from './runTask';
import { withoutSounds } from './withoutSounds';

/**
 * Write a report beside the event loop.
 *
 * @param input that of `buildReport`. @param options `formats` beside the page (png, markdown, text), a `credit` line for
 * them, and a `signal` that ends it.
 * @returns what `buildReport` gives for the same input; `pictures` (every figure at two sizes), `markdown` and `text`
 * where asked for.
 * @throws BassloomError `bad-option`, and as `runTask` does.
 *
 * Notes: a report names recordings but does not listen to them, so their sounds are not handed over.
 *
 * @example
 * const { html, markdown } = await renderReport({ topic: 'Unit A', measurements: [curve], findings: {} }, { formats: ['markdown'] });
 */
export async function renderReport(
  input: ReportInput,
  options: FormatOptions & { signal?: AbortSignal } = {},
): Promise<FormattedReport> {
  const { signal, ...own } = options;
  const task = { input: { ...input, measurements: withoutSounds(input.measurements) }, options: own };
  return await runTask('buildReport', task, { signal });
}
