import type { ReportWords } from '../../words/reportWords';

/** Size and lettering of one drawing of a chart; every chart is drawn for a desk and for a phone. */
export interface Layout {
  name: 'wide' | 'narrow';
  width: number;
  /** Height of an ordinary chart; builders may ask for more, unless `isFixed`. */
  height: number;
  isFixed?: boolean;
  fontSize: number;
  /** What is written in the chart, in the reader's language. */
  words: ReportWords;
}

/** The two drawings of every chart. */
export function layouts(words: ReportWords): { wide: Layout; narrow: Layout } {
  return {
    wide: { name: 'wide', width: 920, height: 460, fontSize: 14, words },
    narrow: { name: 'narrow', width: 350, height: 350, fontSize: 12, words },
  };
}

/** Fonts of the reader's own system; nothing is fetched. */
export const FONT_FAMILY = 'system-ui, -apple-system, Segoe UI, Roboto, Noto Sans, Helvetica, Arial, sans-serif';

/** Letters twice as wide as others: ideographs, syllables of Hangul and Kana, pictures. */
const WIDE_LETTER =
  /\p{Script=Han}|\p{Script=Hiragana}|\p{Script=Katakana}|\p{Script=Hangul}|\p{Extended_Pictographic}/u;

/**
 * Width of a text in px, reckoned from the kinds of its characters: there is no screen to ask.
 * Rather too wide than too narrow, since nobody knows the reader's font.
 */
export function textWidth(text: string, fontSize: number): number {
  let em = 0;
  for (const character of text) {
    if (/[ilj.,:;'|!()\s\u00a0]/.test(character)) em += 0.36;
    else if (/[MWmw@%]/.test(character)) em += 0.97;
    else if (/[+=<>\u2212\u2265]/.test(character)) em += 0.84;
    else if (/[A-Z]/.test(character)) em += 0.7;
    else if (character > '\u1100' && WIDE_LETTER.test(character)) em += 1;
    else em += 0.64;
  }
  return em * fontSize;
}

/** Cut a text to a width, with an ellipsis where something was cut. */
export function fitText(text: string, fontSize: number, width: number): string {
  if (textWidth(text, fontSize) <= width) return text;
  const characters = Array.from(text);
  while (characters.length > 1 && textWidth(`${characters.join('')}…`, fontSize) > width) characters.pop();
  return `${characters.join('').trimEnd()}…`;
}
