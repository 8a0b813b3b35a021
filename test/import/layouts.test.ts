import { describe, expect, it } from 'vitest';
import { importText } from '../../lib/import/importText';
import { note } from '../note';

// All data invented.
const read = (text: string, options = {}) => {
  const { curve, notes } = importText(text, options);
  return {
    f: curve.frequencyHz,
    l: curve.levelDb,
    p: curve.phaseDeg,
    n: curve.noiseDb,
    curve,
    notes,
  };
};

describe('the delimiter and the decimal sign', () => {
  it('tells a decimal comma between semicolons from a comma as delimiter', () => {
    const { f, l, notes } = read('20,5;80,1\n21;81,25\n22;80\n');
    expect([f, l]).toEqual([
      [20.5, 21, 22],
      [80.1, 81.25, 80],
    ]);
    expect(notes).toContainEqual(note('delimiter-found', { delimiter: ';' }));
    expect(notes).toContainEqual(note('decimal-sign-found', { sign: ',', met: true }));
    expect(notes.every(({ severity }) => severity === 'remark')).toBe(true);
  });

  it('reads two columns of whole numbers between commas as two columns', () => {
    const { f, l } = read('20,80\n21,81\n');
    expect([f, l]).toEqual([
      [20, 21],
      [80, 81],
    ]);
  });

  it('reads three columns of whole numbers between commas as three, and says what else it could have been', () => {
    const { f, l, p, notes } = read('20,80,1\n21,79,8\n');
    expect([f, l, p]).toEqual([
      [20, 21],
      [80, 79],
      [1, 8],
    ]);
    expect(notes.filter(({ severity }) => severity === 'doubt')).toContainEqual(note('decimals-unsure'));
  });

  it('says nothing of the kind where a heading names three columns', () => {
    expect(read('Freq,SPL,Phase\n20,80,1\n21,79,8\n').notes).not.toContainEqual(note('decimals-unsure'));
  });

  it('reads decimal commas between blanks', () => {
    const { f, l, p } = read('20 80,5 -12,3\n21 80 10\n');
    expect([f, l, p]).toEqual([
      [20, 21],
      [80.5, 80],
      [-12.3, 10],
    ]);
  });

  it('reads decimal commas inside quotes between commas', () => {
    const { f, l } = read('"20,5", "80,1"\n"21,5","81,1"\n');
    expect([f, l]).toEqual([
      [20.5, 21.5],
      [80.1, 81.1],
    ]);
  });

  it('reads columns of a fixed width, with tabs and blanks mixed', () => {
    const { f, l, p } = read('   20.0    80.1   -170.2\n  200.0 \t  81.2\t   3.4\n 2000.0   -9.3     10.0  \n');
    expect([f, l, p]).toEqual([
      [20, 200, 2000],
      [80.1, 81.2, -9.3],
      [-170.2, 3.4, 10],
    ]);
  });

  it('does not move cells where a column of a fixed width is empty in one row', () => {
    const { f, notes } = read('20.0  80.1  -170.2\n25.0        -171.3\n30.0  81.0  -172.0\n');
    expect(f).toEqual([20, 30]);
    expect(notes).toContainEqual(note('rows-dropped', { count: 1, of: 3, why: 'too-few-columns' }, { lines: [2] }));
  });

  it('keeps cells in place where tabs leave one empty', () => {
    const { f, l, notes } = read('20\t\t5\n25\t80\t6\n30\t81\t7\n');
    expect([f, l]).toEqual([
      [25, 30],
      [80, 81],
    ]);
    expect(notes).toContainEqual(note('rows-dropped', { count: 1 }, { lines: [1] }));
  });

  it('takes a comma with blanks around it for a delimiter', () => {
    expect(read(' 20 , 80\n 30 , 81\n').f).toEqual([20, 30]);
    expect(read('20, 80, 1\n30, 81, 2\n').l).toEqual([80, 81]);
  });

  it('takes delimiters at the ends of rows as they come', () => {
    expect(read('20,80.5,\n30,81.5,\n').l).toEqual([80.5, 81.5]);
    expect(read(';20;80,5\n;30;81,5\n').l).toEqual([80.5, 81.5]);
  });

  it('finds the decimal sign even where it turns up only far down', () => {
    const rows = Array.from({ length: 5000 }, (_, i) => `${20 + i};${80 + (i % 3)}`);
    rows[4321] = '4341;80,25';
    const { l, notes } = read(rows.join('\n'));
    expect(notes).toContainEqual(note('decimal-comma-late'));
    expect(l[4321]).toBe(80.25);
    expect(l).toHaveLength(5000);
  });

  it('takes the delimiter and decimal sign it is told', () => {
    expect(read('20|80\n30|81', { delimiter: '|' }).l).toEqual([80, 81]);
    expect(read('1,234;80\n2,345;81', { decimal: '.' }).f).toEqual([1234, 2345]);
    expect(read('20,80,1\n21,80,2\n', { delimiter: ',' }).notes).not.toContainEqual(note('delimiter-found'));
    expect(read('20\t 80\n30  81', { delimiter: ' ' }).l).toEqual([80, 81]);
  });
});

describe('thousands separators', () => {
  it('takes a sign for decimals where both would do, and says so', () => {
    const { f, notes } = read('1,234;80\n1,300;81\n');
    expect(f).toEqual([1.234, 1.3]);
    expect(notes.filter(({ severity }) => severity === 'doubt')).toContainEqual(
      note('decimal-sign-unsure', { sign: ',', taken: 'decimal' }),
    );
  });

  it('sees from the order of the frequencies that a sign groups thousands', () => {
    for (const sign of [',', '.']) {
      const { f, notes } = read(`500;80\n999;81\n1${sign}000;82\n1${sign}250;83\n`);
      expect(f).toEqual([500, 999, 1000, 1250]);
      expect(notes).toContainEqual(note('thousands-separators-removed', { count: 2 }, { lines: [3, 4] }));
    }
  });

  it('reads numbers that hold both signs, and says so', () => {
    expect(read('900,5;80,1\n1.234,5;81,2\n').f).toEqual([900.5, 1234.5]);
    expect(read('900.5;80.1\n1,234.5;81.2\n').f).toEqual([900.5, 1234.5]);
    expect(read('900.5\t80.1\n1\u202f234.5\t81.2\n').notes).toContainEqual(
      note('thousands-separators-removed', { count: 1 }, { lines: [2] }),
    );
  });

  it('takes three decimals throughout for decimals', () => {
    const { f, notes } = read('20,000;80,125\n20,500;80,250\n100,000;80,000\n');
    expect(f).toEqual([20, 20.5, 100]);
    // the other reading has levels of 80,125 dB, so there is nothing to doubt
    expect(notes.every(({ severity }) => severity === 'remark')).toBe(true);
  });
});

describe('line ends and encodings', () => {
  const text = 'Fréquence (Hz);Niveau (dB)\n20;80,5\n25;81,5\n';
  const expected = [80.5, 81.5];

  it.each(['\n', '\r', '\r\n'])('reads %j as line end', (end) => {
    expect(read(text.replaceAll('\n', end)).l).toEqual(expected);
  });

  it('counts lines alike whatever their ends are', () => {
    for (const end of ['\n', '\r', '\r\n']) {
      expect(read(`20;80\n25;x\n30;81\n`.replaceAll('\n', end)).notes).toContainEqual(
        note('rows-dropped', { count: 1 }, { lines: [2] }),
      );
    }
  });

  const utf16be = (content: string) => Buffer.from(content, 'utf16le').swap16();
  it.each([
    ['UTF-8', Buffer.from(text), undefined],
    ['UTF-8 with byte order mark', Buffer.from(`\ufeff${text}`), undefined],
    ['UTF-16LE with byte order mark', Buffer.from(`\ufeff${text}`, 'utf16le'), { encoding: 'UTF-16LE', by: 'mark' }],
    ['UTF-16BE with byte order mark', utf16be(`\ufeff${text}`), { encoding: 'UTF-16BE', by: 'mark' }],
    ['UTF-16LE without', Buffer.from(text, 'utf16le'), { encoding: 'UTF-16LE', by: 'zeros' }],
    ['UTF-16BE without', utf16be(text), { encoding: 'UTF-16BE', by: 'zeros' }],
    ['Latin-1', Buffer.from(text, 'latin1'), { encoding: 'windows-1252', by: 'bytes' }],
  ])('reads %s', (_, bytes, encoding) => {
    const { curve, notes } = importText(new Uint8Array(bytes));
    expect(curve.levelDb).toEqual(expected);
    if (encoding) expect(notes).toContainEqual(note('encoding-found', encoding));
    expect(notes).toContainEqual(note('columns-chosen', { frequencyHeading: 'Fréquence (Hz)' }));
  });

  it('reads the en dash of windows-1252 as minus', () => {
    const bytes = Buffer.from('20;\x96 5,5\n25;\x966\n# é', 'latin1');
    expect(importText(bytes).curve.levelDb).toEqual([-5.5, -6]);
  });

  it('keeps UTF-8 where a single character is broken', () => {
    const bytes = Buffer.concat([Buffer.from('# é é \u2212\n20;\u22125\n25;\u22126\n'), Buffer.from([0xc3])]);
    const { curve, notes } = importText(bytes);
    expect(curve.levelDb).toEqual([-5, -6]);
    expect(notes).toContainEqual(note('characters-broken', { count: 1 }));
  });

  it('takes the encoding it is told', () => {
    expect(importText(Buffer.from(text, 'utf16le'), { encoding: 'utf-16le' }).curve.levelDb).toEqual(expected);
  });
});
