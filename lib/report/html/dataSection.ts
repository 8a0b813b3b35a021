import type { ReportWords } from '../../words/reportWords';
import { escapeHtml } from '../text';

/** A file that the page carries inside itself. */
export interface CarriedFile {
  name: string;
  type: 'text/csv' | 'application/json';
  text: string;
  what: string;
}

/** Links that save the data, held in the page itself: no server is asked. */
export function dataSection(files: CarriedFile[], { page }: ReportWords): string {
  const items = files.map(({ name, type, text, what }) => {
    const bytes = Buffer.from(text, 'utf8');
    const href = `data:${type};charset=utf-8;base64,${bytes.toString('base64')}`;
    return `<li><a download="${escapeHtml(name)}" href="${href}">${escapeHtml(name)}</a> <span class="quiet">${escapeHtml(what)}, ${page.dataWords.size(bytes.length)}</span></li>`;
  });
  return `<ul class="files">${items.join('\n')}</ul>`;
}
