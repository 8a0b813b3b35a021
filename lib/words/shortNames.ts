import { plainName } from './plainName';

const MOST_WORDS = 3;
const MOST_CHARACTERS = 28;

/**
 * Cut names so that each takes at most three words of a headline, and that no two of them come out alike.
 *
 * @param names as the measurements have them. @param always give those without a name a number, too.
 * @returns the first and the last word of what is too long; where that would make two alike, 'setting 2' and so on.
 *
 * @example
 * shortNames(['deep', 'all filters off, phase 180']) // ['deep', 'all … 180']
 */
export function shortNames(names: readonly string[], always = false): string[] {
  const plain = names.map(plainName);
  const short = plain.map(shorten);
  const isAlike = (name: string, k: number): boolean => short.some((other, i) => i !== k && other === name);
  return short.map((name, k) => ((name ? isAlike(name, k) : always) ? `setting ${k + 1}` : name));
}

function shorten(name: string): string {
  const words = name.split(' ');
  if (words.length <= MOST_WORDS && name.length <= MOST_CHARACTERS) return name;
  const parts = words.length > MOST_WORDS ? [words[0], '…', words[words.length - 1]] : words;
  const each = Math.floor(MOST_CHARACTERS / Math.min(parts.length, 2)) - 1;
  // a string is cut between characters, never inside one
  return parts.map((word) => (word.length > each ? `${[...word].slice(0, each - 1).join('')}…` : word)).join(' ');
}
