import type { ReportWords } from '../../words/reportWords';
import type { Figure } from '../figures/figure';
import { escapeHtml, proseHtml } from '../text';
import { dataTable } from './dataTable';

export interface DrawnFigure {
  figure: Figure;
  number: number;
  wideSvg: string;
  narrowSvg: string;
}

/** The numbers of a figure, folded. */
export function figureNumbers({ figure, number }: DrawnFigure, words: ReportWords): string {
  return `<details><summary aria-label="${words.page.numbersOf(number)}">${words.page.numbers}</summary>${dataTable(figure.table, words)}</details>`;
}

/** A figure with its two drawings, its caption and its numbers. */
export function figureHtml(drawn: DrawnFigure, words: ReportWords, numbers = figureNumbers(drawn, words)): string {
  const { figure, number, wideSvg, narrowSvg } = drawn;
  const { page } = words;
  return `<figure id="${figure.id}" aria-labelledby="${figure.id}-title">
<h3 class="figure-title" id="${figure.id}-title">${escapeHtml(figure.title)}</h3>
${wideSvg}
${narrowSvg}
<figcaption><span class="label">${page.figureLabel(number)}</span> ${proseHtml(figure.caption)}</figcaption>
${numbers}</figure>`;
}
