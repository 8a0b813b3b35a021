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
import { missing } from '../../lib/words/en/missing';
import * as room from '../../lib/words/en/room';
import * as settings from '../../lib/words/en/settings';
import * as sound from '../../lib/words/en/sound';
import { verdict } from '../../lib/words/en/verdict';
import { ENGLISH } from '../../lib/words/format';
import type { Phrases } from '../../lib/words/phrase';
import { GERMAN, PAST_THE_FORMATS, whatIsAmiss } from './plainText';
import { ALL_CODES, type AnyCode, PLACES_SAID, valuesFor } from './samples';

const SUBJECTS = [captures, curves, deconvolution, importing, ladder, room, settings, sound].flatMap((one) =>
  Object.values(one).filter((part): part is Phrases => typeof part === 'object'),
);
const ALL: Phrases = { ...en, ...headlines, ...verdict };

function render(code: AnyCode, format = ENGLISH): string[] {
  const values = valuesFor(code);
  return [...new Set(PLACES_SAID.flatMap((where) => values.map((one) => ALL[code](one, where, format))))];
}

describe('the catalogue', () => {
  it('has each code once', () => {
    const codes = [...SUBJECTS, headlines, missing, verdict].flatMap((one) => Object.keys(one));
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
      expect(whatIsAmiss(text)).toEqual([]);
      if (!/^(cause|exposure-source)/.test(code)) expect(text).toMatch(/^\S.*[.]$/);
    }
  });

  it.each(ALL_CODES)('%s writes its numbers as the language does', (code) => {
    for (const text of render(code, GERMAN))
      expect(text.replace(/'[^']*'|\.wav|\.txt/g, '')).not.toMatch(PAST_THE_FORMATS);
  });
});
