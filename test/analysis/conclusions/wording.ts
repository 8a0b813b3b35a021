import { expect } from 'vitest';
import type { Conclusions, Statement } from '../../../lib/model/findings';

/** No-break spaces read as spaces. */
export function plain(text: string): string {
  return text.replaceAll('\u00a0', ' ');
}

export function texts(conclusions: Conclusions): string[] {
  return conclusions.headlines.map(({ text }) => plain(text));
}

export function allText(conclusions: Conclusions): string {
  return plain([...conclusions.headlines, ...conclusions.details].map(({ text }) => text).join('\n'));
}

/** Numbers of a text, minus signs heeded; names in quotation marks are names, whatever they hold. */
export function numbersIn(text: string): number[] {
  const bare = text.replace(/‘[^’]*’/g, '');
  return [...bare.matchAll(/(?<![\d.])[−]?\d+(?:\.\d+)?/g)].map(([digits]) => Number(digits.replace('−', '-')));
}

/** What holds of every statement, whatever it says. */
export function expectSound(statement: Statement): void {
  const { code, values, text } = statement;
  expect(text, code).not.toMatch(/NaN|undefined|null|Infinity|\[object| {2}|\.\.$|\(\)|‘’/);
  expect(text, code).toMatch(/^[‘\p{Lu}\d−⁨].*\.$/su);
  const known = Object.values(values).filter((value) => typeof value === 'number');
  for (const value of known) expect(Number.isFinite(value), `${code} ${JSON.stringify(values)}`).toBe(true);
  const strings = Object.values(values).filter((value) => typeof value === 'string');
  let bare = text;
  for (const value of strings) if (value !== '') bare = bare.replaceAll(value, '');
  for (const number of numbersIn(bare)) {
    const isKnown = known.some((value) => value === number || Math.abs(value) === Math.abs(number));
    expect(isKnown, `${number} of '${text}' in ${JSON.stringify(values)}`).toBe(true);
  }
}

export function wordsIn(text: string): number {
  return text.split(/\s+/).length;
}
