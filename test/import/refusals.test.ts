import { describe, expect, it } from 'vitest';
import { importText } from '../../lib/import/importText';
import type { TextOptions } from '../../lib/import/textOptions';
import { BassloomError } from '../../lib/model/errors';
import { note } from '../note';

function refusal(source: unknown, options: object = {}): BassloomError {
  try {
    importText(source as string, options as TextOptions);
  } catch (error) {
    expect(error).toBeInstanceOf(BassloomError);
    return error as BassloomError;
  }
  throw new Error('was not refused');
}

const ROWS = '20,80.5\n25,81.5\n';

describe('a text that cannot be read is refused', () => {
  it.each([
    ['nothing', '', 'empty', undefined],
    ['nothing but blanks', ' \r\n\t\n\ufeff', 'empty', undefined],
    ['no bytes', new Uint8Array(0), 'empty', undefined],
    ['a heading alone', '# run\nFrequency (Hz),SPL (dB)\n', 'header-only', 2],
    ['a heading alone, three columns', 'Freq;SPL;Phase\n', 'header-only', 1],
    ['prose', 'This is not\na measurement\n', 'nothing-numeric', undefined],
    ['prose with numbers', 'On 3 May we took 4 runs\n2 of them were good\n', 'nothing-numeric', undefined],
    ['a heading and rows with units', 'Freq,SPL\n20 Hz,80 dB\n', 'nothing-numeric', undefined],
    ['one column', '# run\n20.5\n21\n25\n', 'one-column', 2],
    ['another delimiter than told', '20;80\n25;81\n', 'one-column', 1, { delimiter: '\t' }],
    ['a web page', '<!DOCTYPE html><html><body>20,80</body></html>', 'html', undefined],
    ['a web page of one line', '  <HTML>20,80', 'html', undefined],
    ['zero bytes', Buffer.from('20,80\n25,81\n\0\0\0'), 'binary', undefined],
    ['a spreadsheet', Buffer.from([0x50, 0x4b, 3, 4, 1, 2, 3]), 'binary', undefined],
    ['control characters', '\u0001\u0002\u0003\u0004 20,80', 'binary', undefined],
    ['a level too high', `${ROWS}30,301\n`, 'level-out-of-range', 3],
    ['a level too low', `20,-300.5\n${ROWS}`, 'level-out-of-range', 1],
    ['one point', '20,80.5\n', 'too-few-points', undefined],
    ['one frequency', '20,80.5\n20,81.5\n', 'too-few-points', undefined],
    ['no usable level', '20,NaN\n25,NaN\n30,80.5\n', 'too-few-points', undefined],
    ['more points than allowed', `${ROWS}30,82\n`, 'too-many-points', 3, { maxPoints: 2 }],
    ['commas for thousands and columns', '900.5,80\n950.5,81\n1,000.5,82\n1,050.5,83\n', 'thousands-separators', 1],
    ['commas for decimals and columns', '20,5,80,1\n20,6,80,2\n20,7,80,3\n', 'ambiguous-decimal', 1],
    ['more whole numbers than headings', 'Freq,SPL\n20,80,1\n21,80,2\n', 'ambiguous-decimal', 2],
    ['a second curve', 'Freq;dB\n20;80\n25;81\n\nFreq;dB\n20;70\n25;71\n', 'several-curves', 5],
    ['neither text nor bytes', 42, 'bad-source', undefined],
    ['nothing at all', undefined, 'bad-source', undefined],
  ])('%s', (_, source, code, line, options: object = {}) => {
    const error = refusal(source, { name: 'folder/run 3.txt', ...options });
    expect(error.code).toBe(code);
    expect(error.line).toBe(line);
    expect(error.message).toContain('run 3.txt');
    expect(error.message).not.toContain('folder');
    if (line !== undefined) expect(error.message).toContain(`line ${line}`);
  });

  it('levels of exactly -300 and 300 dB are not refused', () => {
    expect(importText('20,-300\n25,300\n').curve.levelDb).toEqual([-300, 300]);
  });

  it('says why too few points are left', () => {
    expect(refusal('20,NaN\n-25,80\n30,80.5\n').message).toMatch(
      /1 usable point;.*not above 0 \(line 2\)|missing or no number \(line 1\)/,
    );
  });
});

describe('options are checked', () => {
  it.each([
    [{ encoding: 'utf-42' }, 'unknown-encoding', 'encoding'],
    [{ delimiter: ',', decimal: ',' }, 'contradictory-options', 'delimiter'],
    [{ delimiter: ';;' }, 'bad-option', 'delimiter'],
    [{ delimiter: '5' }, 'bad-option', 'delimiter'],
    [{ delimiter: '"' }, 'bad-option', 'delimiter'],
    [{ delimiter: 7 }, 'bad-option', 'delimiter'],
    [{ decimal: ';' }, 'bad-option', 'decimal'],
    [{ frequencyUnit: 'MHz' }, 'bad-option', 'frequencyUnit'],
    [{ levelUnit: 'sone' }, 'bad-option', 'levelUnit'],
    [{ role: 'capture' }, 'bad-option', 'role'],
    [{ scale: 'dB' }, 'bad-option', 'scale'],
    [{ maxPoints: 1 }, 'bad-option', 'maxPoints'],
    [{ maxPoints: 2.5 }, 'bad-option', 'maxPoints'],
    [{ stepDb: '3' }, 'bad-option', 'stepDb'],
    [{ name: 3 }, 'bad-option', 'name'],
    [{ columns: 'level' }, 'bad-option', 'columns'],
    [{ columns: { level: 0 } }, 'bad-option', 'columns.level'],
    [{ columns: { level: 1.5 } }, 'bad-option', 'columns.level'],
    [{ columns: { phase: {} } }, 'bad-option', 'columns.phase'],
    [{ name: 'x', namePattern: '{nobody}' }, 'bad-pattern', 'namePattern'],
  ])('%j is refused', (options, code, field) => {
    const error = refusal(ROWS, options);
    expect(error.code).toBe(code);
    expect(error.field).toBe(field);
  });

  it('blank settings count as not given', () => {
    const blank = {
      name: '',
      delimiter: '',
      decimal: '',
      encoding: null,
      columns: { level: '' },
      role: '',
      maxPoints: null,
    };
    expect(importText(ROWS, blank as unknown as TextOptions).curve.levelDb).toEqual([80.5, 81.5]);
  });

  it('role, scale and label are those given', () => {
    const { curve } = importText(ROWS, { role: 'noise', scale: 'spl', name: 'a\\b/room quiet.v2.txt' });
    expect(curve).toMatchObject({ role: 'noise', scale: 'spl', label: 'room quiet.v2' });
  });

  it('a role is never guessed from the name', () => {
    expect(importText(ROWS, { name: 'noise.txt' }).curve.role).toBe('response');
  });

  it('what the name says goes into about; what does not fit becomes a note', () => {
    const pattern = { namePattern: '{device}_{setting}_step-{step}', stepDb: 2 };
    const fits = importText(ROWS, { name: 'Unit A_flat_step-4.txt', ...pattern });
    expect(fits.curve.about).toEqual({ device: 'Unit A', setting: 'flat', driveDb: 8 });
    const not = importText(ROWS, { name: 'other.txt', ...pattern });
    expect(not.curve.about).toEqual({});
    expect(not.curve.label).toBe('other');
    expect(not.notes).toContainEqual(note('name-off-pattern', { name: 'other.txt' }));
  });

  it('a million rows are read, one more is refused', () => {
    const text = Array.from({ length: 1_000_000 }, (_, i) => `${i + 1},80`).join('\n');
    expect(refusal(`${text}\n1000001,80`)).toMatchObject({ code: 'too-many-points', line: 1_000_001 });
  });
});
