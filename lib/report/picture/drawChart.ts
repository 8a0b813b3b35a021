import { reportWords } from '../../words/reportWords';
import type { ChartInput } from './chartInput';
import { type ChartOptions, settleChart } from './chartOptions';
import { chooseFigure } from './chooseFigure';
import { pictureSvg } from './pictureSvg';
import { svgToPng } from './svgToPng';

/**
 * Draw curves, or a finding with the curves it was read from, as a picture that stands alone.
 *
 * @param input curves and findings; see {@link ChartInput}. @param options format, size, theme, title, credit, locale.
 * @returns the file: SVG as UTF-8, or a PNG of exactly the size asked for.
 * @throws BassloomError `nothing-to-draw`; `mixed-scales` where curves cannot stand on one axis; `bad-option`.
 *
 * @example
 * const svg = await drawChart({ measurements: [curve], findings: { bandFit: [fitBand(curve)] } }, { theme: 'paper' });
 */
export async function drawChart(input: ChartInput, options: ChartOptions = {}): Promise<Uint8Array> {
  const settled = settleChart(options);
  const words = reportWords(settled.locale);
  const { svg } = pictureSvg(chooseFigure(input, words), settled, words);
  return settled.format === 'png' ? await svgToPng(svg) : new TextEncoder().encode(svg);
}
