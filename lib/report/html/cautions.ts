import type { ReportWords } from '../../words/reportWords';
import { escapeHtml } from '../text';

/** What can hurt people or equipment when measurements like these are made. */
export function cautions({ page }: ReportWords): string {
  const items = page.cautionList.map(
    ([term, text]) => `<li><strong>${escapeHtml(term)}.</strong> ${escapeHtml(text)}</li>`,
  );
  return `<ul>\n${items.join('\n')}\n</ul>`;
}
