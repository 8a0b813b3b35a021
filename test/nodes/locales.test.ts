import { existsSync, globSync, readFileSync } from 'node:fs';
import { basename, dirname, join, resolve } from 'node:path';
import { describe, expect, test } from 'vitest';

const root = resolve(import.meta.dirname, '../..');
const english = globSync('nodes/*/locales/en-US/*', { cwd: root }).sort();
const all = globSync('nodes/*/locales/*/*', { cwd: root });
const languageOf = (file: string) => basename(dirname(file));
const languages = [...new Set(all.map(languageOf))].filter((one) => one !== 'en-US');
const inLanguage = (file: string, language: string) => join(dirname(dirname(file)), language, basename(file));
const read = (file: string) => readFileSync(join(root, file), 'utf8');

/** What of the first list the second lacks, and what it has too much; each as often as it occurs. */
function compare(wanted: string[], found: string[]) {
  const rest = [...found];
  const lacks = wanted.filter((one) => {
    const at = rest.indexOf(one);
    if (at >= 0) rest.splice(at, 1);
    return at < 0;
  });
  return { lacks, tooMuch: rest };
}
const NOTHING = { lacks: [], tooMuch: [] };

/** Every string with its place and the values put into it: 'status.read __count__'. */
function strings(value: unknown, key = ''): string[] {
  if (typeof value === 'string') {
    const values = value.match(/__\w+?__/g) ?? [];
    return [[key, ...values.sort(), ...(value.trim() === '' ? ['(empty)'] : [])].join(' ')];
  }
  return Object.entries(value as object).flatMap(([name, one]) => strings(one, key === '' ? name : `${key}.${name}`));
}

const plain = (html: string) => html.replace(/<[^>]*>/g, '').trim();
const each = (html: string, tag: string) =>
  [...html.matchAll(new RegExp(`<${tag}\\b[^>]*>(.*?)</${tag}>`, 'gs'))].map(([, inside]) => inside);
const headings = (html: string) => each(html, 'h3').map(plain);

/** What is the same in every language: how it is built, names of properties, code, and the numbers. */
function parts(html: string) {
  const built = [...html.matchAll(/<(script|h3|dl|dt|dd|p|ul|li)\b[^>]*>/g)].map(([tag]) => tag);
  // a decimal comma is a decimal point; a name in angle brackets stands for something and is translated
  const numbers = plain(html).replace(/(?<=\d),(?=\d)/g, '.');
  return {
    built: built.map((tag, i) => `${i + 1} ${tag}`),
    properties: each(html, 'dt').map(plain),
    code: each(html, 'code').map((text) => text.replace(/&lt;.*?&gt;/g, '<>')),
    numbers: numbers.match(/\d+(\.\d+)?/g) ?? [],
  };
}

test('there are languages to look at', () => {
  expect(english.length).toBeGreaterThan(40);
  expect(languages).toContain('de');
});

describe.each(languages)('the language %s', (language) => {
  test('has every file of the English one, and no other', () => {
    const wanted = english.map((file) => inLanguage(file, language));
    const found = all.filter((file) => languageOf(file) === language);
    expect(compare(wanted, found)).toEqual(NOTHING);
  });

  const both = english.filter((file) => existsSync(join(root, inLanguage(file, language))));

  test.each(both.filter((file) => file.endsWith('.json')))('has the keys and values of %s', (file) => {
    const [wanted, found] = [file, inLanguage(file, language)].map((one) => strings(JSON.parse(read(one))));
    expect(compare(wanted, found)).toEqual(NOTHING);
  });

  const helps = both.filter((file) => file.endsWith('.html'));

  test.each(helps)('has all that %s explains', (file) => {
    const [wanted, found] = [file, inLanguage(file, language)].map((one) => parts(read(one)));
    for (const part of Object.keys(wanted) as (keyof typeof wanted)[]) {
      expect({ [part]: compare(wanted[part], found[part]) }).toEqual({ [part]: NOTHING });
    }
  });

  test('calls a heading of the help the same everywhere', () => {
    const called = new Map<string, Set<string>>();
    for (const file of helps) {
      const own = headings(read(inLanguage(file, language)));
      headings(read(file)).forEach((heading, i) => {
        called.set(heading, (called.get(heading) ?? new Set()).add(own[i]));
      });
    }
    expect([...called].filter(([, names]) => names.size !== 1)).toEqual([]);
    expect(new Set([...called.values()].flatMap((names) => [...names])).size).toBe(called.size);
  });
});
