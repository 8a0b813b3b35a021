import { globSync, readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { expect, it, describe as suite } from 'vitest';
import { BassloomError } from '../../lib/model/errors';
import { deriveCurve, makeCurve } from '../../lib/model/makeCurve';
import { planSweep } from '../../lib/signal/sweepPlan';
import { describe } from '../../lib/words/describe';
import { analyses } from '../../lib/words/en/refusals/analyses';
import { calibration } from '../../lib/words/en/refusals/calibration';
import { captures } from '../../lib/words/en/refusals/captures';
import { common } from '../../lib/words/en/refusals/common';
import { curves } from '../../lib/words/en/refusals/curves';
import { refusals } from '../../lib/words/en/refusals/index';
import { rig } from '../../lib/words/en/refusals/rig';
import { room } from '../../lib/words/en/refusals/room';
import { signal } from '../../lib/words/en/refusals/signal';
import { sweeps } from '../../lib/words/en/refusals/sweeps';
import { texts } from '../../lib/words/en/refusals/texts';
import { wav } from '../../lib/words/en/refusals/wav';
import { ENGLISH } from '../../lib/words/format';
import { makeRefusal, type RefusalCode } from '../../lib/words/makeRefusal';
import type { Phrase } from '../../lib/words/phrase';
import { GERMAN, PAST_THE_FORMATS, whatIsAmiss } from './plainText';
import { REFUSAL_CODES, samples } from './refusalSamples';

const SUBJECTS = [analyses, calibration, captures, common, curves, rig, room, signal, sweeps, texts, wav];

function render(code: RefusalCode, format = ENGLISH): string[] {
  const { values, field } = samples[code];
  return values.map((one) => (refusals[code] as Phrase)(one, { field }, format));
}

function thrownBy(run: () => unknown): BassloomError {
  try {
    run();
  } catch (problem) {
    return problem as BassloomError;
  }
  throw new Error('nothing was refused');
}

suite('the catalogue of refusals', () => {
  it('has each code once', () => {
    const codes = SUBJECTS.flatMap((one) => Object.keys(one));
    expect(codes.filter((code, i) => codes.indexOf(code) !== i)).toEqual([]);
    expect(codes.sort()).toEqual([...REFUSAL_CODES].sort());
  });

  it('has no code that nothing makes', () => {
    const root = resolve(import.meta.dirname, '../..');
    const source = globSync(['lib/**/*.ts'], { cwd: root })
      .filter((file) => !file.includes('words'))
      .map((file) => readFileSync(resolve(root, file), 'utf8'))
      .join('\n');
    expect(REFUSAL_CODES.filter((code) => !source.includes(`'${code}'`))).toEqual([]);
  });

  it('makes every refusal of import and analyses: no room below writes a message of its own', () => {
    const root = resolve(import.meta.dirname, '../..');
    const own = globSync(['lib/{model,import,signal,wav,response,rig,room,analysis,report}/**/*.ts'], {
      cwd: root,
    }).filter((file) =>
      /new BassloomError\(/.test(readFileSync(resolve(root, file), 'utf8').replace(/^ \* .*$/gm, '')),
    );
    // the model cannot ask words: its phrases stand with it, and the catalogue has them
    expect(own).toEqual(['lib/model/refusals.ts']);
  });

  it.each(REFUSAL_CODES)('says %s in plain, whole text, whatever was given', (code) => {
    for (const text of render(code)) {
      expect(whatIsAmiss(text)).toEqual([]);
      expect(text).toMatch(/^\S.*[.]$/);
    }
  });

  it.each(REFUSAL_CODES)('writes the numbers of %s as the language does', (code) => {
    for (const text of render(code, GERMAN)) expect(text).not.toMatch(PAST_THE_FORMATS);
  });
});

suite('a refusal', () => {
  it('keeps code, values, field and cause, and says its message from them', () => {
    const cause = new Error('why');
    const refusal = makeRefusal('sweep-level', { levelDbfs: 3.5 }, { field: 'levelDbfs', cause });
    expect(refusal).toBeInstanceOf(BassloomError);
    expect(refusal).toMatchObject({ code: 'sweep-level', values: { levelDbfs: 3.5 }, field: 'levelDbfs', cause });
    expect(refusal.message).toContain('3.5\u00a0dBFS');
    expect(describe(refusal, 'en-GB')).toBe(refusal.message);
    expect(describe(refusal, 'xx')).toBe(refusal.message);
  });

  it('can be said again wherever it was thrown, in the model too', () => {
    const curve = makeCurve({ frequencyHz: [20, 40], levelDb: [80, 86], label: 'one' });
    const step = { did: 'own: test', with: {} } as const;
    const refused: [() => unknown, string][] = [
      [() => planSweep({ startHz: 20, endHz: 10, seconds: 5, sampleRateHz: 8000 }), 'sweep-range'],
      [() => makeCurve({ frequencyHz: [], levelDb: [] }), 'empty-curve'],
      [() => deriveCurve(curve, { levelDb: [80] }, step), 'unequal-columns'],
      [() => deriveCurve(curve, { levelDb: [80, Number.NaN] }, step), 'not-a-number'],
      [() => deriveCurve(curve, { frequencyHz: [20.5, 20] }, step), 'frequency-not-rising'],
    ];
    for (const [run, code] of refused) {
      const refusal = thrownBy(run);
      expect(refusal.code).toBe(code);
      expect(refusal.values).toBeDefined();
      expect(describe(refusal)).toBe(refusal.message);
      expect(whatIsAmiss(refusal.message)).toEqual([]);
    }
  });

  it('has flat values whatever was given', () => {
    const odd = [undefined, [1, 2], { a: 1 }, 10n, () => 1, Symbol('s')] as unknown as number[];
    for (const levelDbfs of odd) {
      const { values, message } = makeRefusal('sweep-level', { levelDbfs });
      expect(['string', 'object']).toContain(typeof values?.levelDbfs);
      expect(values?.levelDbfs === null || typeof values?.levelDbfs === 'string').toBe(true);
      expect(message).not.toMatch(/undefined;|\[object/);
    }
  });

  it('is not taken for a caveat or a statement of the same code', () => {
    expect(describe(makeRefusal('nothing-usable', {}))).toMatch(/capture/);
    expect(describe({ code: 'nothing-usable', values: {} })).not.toMatch(/capture/);
  });

  it('stands for itself where it has no values', () => {
    expect(describe(new BassloomError('bad-option', 'Option x: it must be y.'), 'en')).toBe('Option x: it must be y.');
  });
});
