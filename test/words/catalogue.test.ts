import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import * as captures from '../../lib/words/en/captures';
import * as curves from '../../lib/words/en/curves';
import * as deconvolution from '../../lib/words/en/deconvolution';
import { headlines } from '../../lib/words/en/headlines';
import * as importing from '../../lib/words/en/importing';
import { en } from '../../lib/words/en/index';
import * as ladder from '../../lib/words/en/ladder';
import * as room from '../../lib/words/en/room';
import * as settings from '../../lib/words/en/settings';
import * as sound from '../../lib/words/en/sound';
import { verdict } from '../../lib/words/en/verdict';
import { ENGLISH, makeFormat } from '../../lib/words/format';
import type { Phrases } from '../../lib/words/phrase';
import { ALL_CODES, type AnyCode, PLACES_SAID, valuesFor } from './samples';

const GERMAN = makeFormat({ decimal: ',', and: ' und ', ordinal: (n) => `${n}.`, overADay: 'mehr als ein Tag' });
const SUBJECTS = [captures, curves, deconvolution, importing, ladder, room, settings, sound].flatMap((one) =>
  Object.values(one).filter((part): part is Phrases => typeof part === 'object'),
);
const ALL: Phrases = { ...en, ...headlines, ...verdict };

/** What no sentence may hold, and what that is called. */
const AMISS: [string, RegExp][] = [
  ['a value that is missing', /undefined|NaN|Infinity|\[object|\bnull\b(?! in)|\b(true|false)\b/],
  ['two blanks', /\s\s/],
  ['a blank before a stop', /\s[.,;:?!)]/],
  ['two stops', /[.,;:]{2}|,\.|\(\)/],
  ['a hyphen for a minus sign', /(^|[\s(±])-\d/],
  ['one of several', /(?<![\d.,\u2013])\b1\s(?!is |was |has |s\b|ms\b|as )[a-z]{2,}(?<!s)s\b/],
];

function render(code: AnyCode, format = ENGLISH): string[] {
  return [
    ...new Set(PLACES_SAID.flatMap((where) => valuesFor(code).map((values) => ALL[code](values, where, format)))),
  ];
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

describe('the catalogue', () => {
  it('has each code once', () => {
    const codes = [...SUBJECTS, headlines, verdict].flatMap((one) => Object.keys(one));
    expect(codes.filter((code, i) => codes.indexOf(code) !== i)).toEqual([]);
    expect(codes.sort()).toEqual([...ALL_CODES].sort());
  });

  it('has no code that nothing makes', () => {
    const root = join(__dirname, '../..');
    const source = ['lib', 'nodes']
      .flatMap((folder) =>
        readdirSync(join(root, folder), { recursive: true, encoding: 'utf8' }).map((f) => join(folder, f)),
      )
      .filter((file) => file.endsWith('.ts') && !file.includes(join('words', 'en')))
      .map((file) => readFileSync(join(root, file), 'utf8'))
      .join('\n');
    const written = new Set([...source.matchAll(/'([a-z0-9-]+)'/g)].map(([, text]) => text));
    // such as `limits-${extent}`: the part that stands before the value
    const begun = [...source.matchAll(/`([a-z]+-)\$\{/g)].map(([, start]) => start);
    expect(ALL_CODES.filter((code) => !written.has(code) && !begun.some((start) => code.startsWith(start)))).toEqual(
      [],
    );
  });
});

describe('each phrase', () => {
  it.each(ALL_CODES)('%s is plain, whole text, whatever the values', (code) => {
    for (const text of render(code)) {
      for (const [what, pattern] of AMISS) expect(pattern.test(text) ? `${what}: ${text}` : '').toBe('');
      expect(isBalanced(text) ? '' : text).toBe('');
      expect(text).not.toBe('');
      if (!/^(cause|exposure-source)/.test(code)) expect(text).toMatch(/^\S.*[.]$/);
    }
  });

  it.each(ALL_CODES)('%s writes its numbers as the language does', (code) => {
    // a number that went past the formats keeps its point
    for (const text of render(code, GERMAN)) expect(text.replace(/'[^']*'|\.wav|\.txt/g, '')).not.toMatch(/\d\.\d/);
  });
});
