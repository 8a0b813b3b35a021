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
export function figureHtml({ figure, number, wideSvg, narrowSvg }: DrawnFigure): string {
  return `<figure id="${figure.id}" aria-labelledby="${figure.id}-title">
<h3 class="figure-title" id="${figure.id}-title">${escapeHtml(figure.title)}</h3>
${wideSvg}
${narrowSvg}
<figcaption><span class="label">Figure ${number}.</span> ${proseHtml(figure.caption)}</figcaption>
<details><summary>Numbers of figure ${number}</summary>${dataTable(figure.table)}</details>
</figure>`;
}
