import type { ReportWords } from '../../words/reportWords';
import { escapeHtml } from '../text';

export type TableCell = string | number | null;

/** A table as rows of cells; the first column names its row. */
export interface DataTable {
  caption: string;
  head: string[];
  rows: TableCell[][];
  /** Decimals of numbers, column by column; one decimal where not said. */
  decimals?: number[];
}

/** HTML of a table: caption, column and row headers with scope; numbers to the right, nothing known is a dash. */
export function dataTable(table: DataTable, { say }: ReportWords): string {
  const cell = (value: TableCell, column: number): string => {
    if (value === null) return '<td class="number">–</td>';
    const text = typeof value === 'number' ? say.number(value, table.decimals?.[column] ?? 1) : escapeHtml(value);
    const kind = typeof value === 'number' ? ' class="number"' : '';
    return column === 0 ? `<th scope="row">${text}</th>` : `<td${kind}>${text}</td>`;
  };
  const head = table.head.map((name) => `<th scope="col">${escapeHtml(name)}</th>`).join('');
  const rows = table.rows.map((row) => `<tr>${row.map(cell).join('')}</tr>`).join('\n');
  return (
    `<div class="scroll" tabindex="0" role="region" aria-label="${escapeHtml(table.caption)}"><table><caption>${escapeHtml(table.caption)}</caption>` +
    `<thead><tr>${head}</tr></thead>\n<tbody>${rows}</tbody></table></div>`
  );
}
