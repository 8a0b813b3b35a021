import { type ChartOptions, settleChart } from '../report/picture/chartOptions';
import type { Plot, SeenInput } from '../report/picture/drawSeen';
import { runTask } from './runTask';

/**
 * Draw what a node did to curves beside the event loop: what came in thin, what went out bold.
 *
 * @returns the picture, where its plot lies, so that a place in it can be told as frequency and level, and what there is
 * to see in words.
 * @throws BassloomError `nothing-to-draw` where there is no curve, `bad-option`, and as `runTask` does.
 *
 * @example
 * const { svg, plot } = await renderSeen({ before: [curve], after: [smooth(curve, { fraction: 3 })], pinned: [] });
 */
export async function renderSeen(
  input: SeenInput,
  options: ChartOptions = {},
): Promise<{ svg: string; plot: Plot; text: string }> {
  settleChart(options);
  return await runTask('drawSeen', { input, options }, { crew: 'pictures' });
}
