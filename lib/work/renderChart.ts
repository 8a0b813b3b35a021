import type { ChartInput } from '../report/picture/chartInput';
import { type ChartOptions, settleChart } from '../report/picture/chartOptions';
import { runTask } from './runTask';
import { withoutSounds } from './withoutSounds';
import type { Crew } from './workers';

/**
 * Draw curves, or a finding with the curves it was read from, beside the event loop.
 *
 * @param input `measurements`, `findings`, and which finding: `kind`, a key of the findings; without it the first that can be
 * drawn, or the curves alone. `setting` and `view` choose among several pictures of it.
 * @param options `format` (svg or png), `widthPx` and `heightPx` (900 x 520), `theme` (light, dark, paper), `title`, `credit`,
 * `locale`, a `signal` that ends it, and the `crew` of threads: 'pictures' where somebody waits.
 * @returns the file: SVG as UTF-8, or a PNG of exactly the size asked for.
 * @throws BassloomError `nothing-to-draw`; `mixed-scales` where curves cannot stand on one axis; `bad-option`; and as
 * `runTask` does.
 *
 * @example
 * const png = await renderChart({ measurements: [curve], findings: { bandFit: [fitBand(curve)] } }, { format: 'png', credit: 'Lab A' });
 */
export async function renderChart(
  input: ChartInput,
  options: ChartOptions & { signal?: AbortSignal; crew?: Crew } = {},
): Promise<Uint8Array> {
  const { signal, crew, ...own } = options;
  settleChart(own);
  const { measurements = [], ...rest } = input;
  const task = { input: { ...rest, measurements: withoutSounds(measurements) }, options: own };
  return await runTask('drawChart', task, { signal, crew });
}
