import { plainName } from '../words/plainName';

export { plainName };

/** Escape prose for HTML and keep ranges such as 18.2–104 Hz on one line. */
export function proseHtml(text: string): string {
  return escapeHtml(text).replace(/[\d.]+–[\d.]+\u00a0Hz/g, '<span class="nb">$&</span>');
}

/** Escape text for HTML, between tags as well as inside quoted attributes. */
export function escapeHtml(text: string): string {
  return text
    .replace(/&/g, '&amp;')
    .replace(/</g, '&lt;')
    .replace(/>/g, '&gt;')
    .replace(/"/g, '&quot;')
    .replace(/'/g, '&#39;');
}
