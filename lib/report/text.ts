import { plainName } from '../words/plainName';
import { MINUS, RANGE } from './format';

export { plainName };

/** A sentence that an analysis wrote: as {@link plainName}, with true minus signs in front of numbers and dashes in ranges. */
export function plainSentence(text: string): string {
  return plainName(text)
    .replace(/(^|[\s(])-(?=\d)/g, `$1${MINUS}`)
    .replace(/(?<=[\s(][\d.]+)-(?=[\d.]+[ \u00a0]Hz\b)/g, RANGE);
}

/** Hold units to their numbers in a text that an analysis wrote with plain blanks. */
export function heldUnits(text: string): string {
  return text.replace(/(\d) (?=(Hz|dB|dBA|h|min|m|ms|s|%)(?![\w%]))/g, '$1\u00a0');
}

/** Up to the end of the first sentence. */
export function firstSentence(text: string): string {
  return /^.*?[.!?](?=\s+\S|$)/.exec(text)?.[0] ?? text;
}

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
