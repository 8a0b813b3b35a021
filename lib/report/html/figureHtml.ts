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

/** A figure with its two drawings, its caption and its numbers. */
export function figureHtml({ figure, number, wideSvg, narrowSvg }: DrawnFigure, words: ReportWords): string {
  const { page } = words;
  return `<figure id="${figure.id}" aria-labelledby="${figure.id}-title">
<h3 class="figure-title" id="${figure.id}-title">${escapeHtml(figure.title)}</h3>
${wideSvg}
${narrowSvg}
<figcaption><span class="label">${page.figureLabel(number)}</span> ${proseHtml(figure.caption)}</figcaption>
<details><summary>${page.numbersOf(number)}</summary>${dataTable(figure.table, words)}</details>
</figure>`;
}
