import { MINUS, RANGE } from './format';

const RIGHT_TO_LEFT = /[\u0590-\u08ff\u200f\u202a-\u202e\u2066-\u2069\ufb1d-\ufdff\ufe70-\ufeff]/;
// biome-ignore lint/suspicious/noControlCharactersInRegex: control characters are what is looked for
const CONTROL = /[\u0000-\u001f\u007f-\u009f\u2028\u2029]+/g;

const LONE_SURROGATE = /\p{Surrogate}/gu;

/** Make a name that came from a file fit for one line of text: no control characters, no broken halves of characters. */
function cleanName(name: string): string {
  return name.replace(CONTROL, ' ').replace(LONE_SURROGATE, '\ufffd').replace(/ {2,}/g, ' ').trim();
}

/**
 * Shut a name off from the writing direction of what stands around it (U+2068 … U+2069),
 * where it holds characters that could turn it round.
 */
function isolate(name: string): string {
  return RIGHT_TO_LEFT.test(name) ? `\u2068${name.replace(/[\u2066-\u2069]/g, '')}\u2069` : name;
}

/** A name that came from outside, fit to stand in a sentence. */
export function plainName(name: string): string {
  return isolate(cleanName(name));
}

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
