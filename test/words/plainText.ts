import { makeFormat } from '../../lib/words/format';

/** A language with another decimal sign. */
export const GERMAN = makeFormat({ decimal: ',', and: ' und ', ordinal: (n) => `${n}.`, overADay: 'mehr als ein Tag' });
/** A number that went past the formats keeps its point. */
export const PAST_THE_FORMATS = /\d\.\d/;

/** What no sentence may hold, and what that is called. */
const AMISS: [string, RegExp][] = [
  ['a value that is missing', /undefined|NaN|Infinity|\[object|\bnull\b(?! in)|\b(true|false)\b/],
  ['two blanks', /\s\s/],
  ['a blank before a stop', /\s[.,;:?!)]/],
  ['two stops', /[.,;:]{2}|,\.|\(\)/],
  ['a hyphen for a minus sign', /(^|[\s(±])-\d/],
  ['one of several', /(?<![\d.,\u2013])\b1\s(?!is |was |has |s\b|ms\b|as )[a-z]{2,}(?<!s)s\b/],
];

/** What is wrong with a text, each with the text. */
export function whatIsAmiss(text: string): string[] {
  const found = AMISS.filter(([, pattern]) => pattern.test(text)).map(([what]) => what);
  if (!isBalanced(text)) found.push('a bracket or quotation mark without its other half');
  if (text === '') found.push('nothing');
  return found.map((what) => `${what}: ${text}`);
}

function isBalanced(text: string): boolean {
  const pairs: Record<string, string> = { ')': '(', ']': '[', '’': '‘', '”': '“' };
  const open: string[] = [];
  // an apostrophe is a straight one, so that a curly one always closes a name
  for (const sign of text) {
    if (Object.values(pairs).includes(sign)) open.push(sign);
    else if (pairs[sign] && open.pop() !== pairs[sign]) return false;
  }
  return open.length === 0;
}
