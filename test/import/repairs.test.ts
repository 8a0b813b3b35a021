import { describe, expect, it } from 'vitest';
import { importText } from '../../lib/import/importText';
import { note } from '../note';

const read = (text: string, options = {}) => {
  const { curve, notes } = importText(text, options);
  return { ...curve, notes };
};

describe('rows that cannot be used', () => {
  it('are dropped with the numbers of their lines', () => {
    const text = 'f;dB\n20;80\n25;NaN\n30;inf\n35;\n-40;80\n0;80\n;81\n50;-1.#IND\n60;abc\nNaN;80\n70;81\n';
    const { frequencyHz, notes } = read(text);
    expect(frequencyHz).toEqual([20, 70]);
    expect(notes).toContainEqual(note('rows-dropped', { count: 5, why: 'level-missing' }, { lines: [3, 4, 5, 9, 10] }));
    expect(notes).toContainEqual(note('rows-dropped', { count: 2, why: 'frequency-not-positive' }, { lines: [6, 7] }));
    expect(notes).toContainEqual(note('rows-dropped', { count: 2, why: 'frequency-missing' }, { lines: [8, 11] }));
  });

  it('are counted in full but only the first named', () => {
    const rows = Array.from({ length: 100 }, (_, i) => `${i + 1};${i % 2 ? 'NaN' : 80}`);
    const dropped = note('rows-dropped', { count: 50, of: 100 }, { lines: [2, 4, 6, 8, 10], file: 'curve' });
    expect(read(rows.join('\n')).notes).toContainEqual(dropped);
  });

  it('are doubted where they are many, but not where only a few are, or where an export begins at 0 Hz', () => {
    const severity = (rows: string[]) =>
      read(rows.join('\n')).notes.filter(({ code }) => code === 'rows-dropped')[0].severity;
    const good = Array.from({ length: 30 }, (_, i) => `${20 + i};80`);
    expect(severity(['60;NaN', ...good])).toBe('remark');
    expect(severity(['60;NaN', '61;NaN', '62;NaN', '63;NaN', ...good])).toBe('doubt');
    expect(severity(['0;80', ...good.slice(0, 5)])).toBe('remark');
  });

  it('may be the very first', () => {
    expect(read('20,NaN\n25,80.5\n30,81.5\n').notes).toContainEqual(note('rows-dropped', { count: 1 }, { lines: [1] }));
  });

  it('include those with more columns than the others between commas', () => {
    const { frequencyHz, notes } = read('f,dB\n20,80.5\n25,81.5\n30,80.1\n35,80.2\n40,80,2\n');
    expect(frequencyHz).toEqual([20, 25, 30, 35]);
    expect(notes).toContainEqual(note('rows-dropped', { count: 1, why: 'too-many-columns' }, { lines: [6] }));
  });
});

describe('text among the data', () => {
  it('is skipped wherever it stands', () => {
    const text = [
      'A response measured in a room, 2 m away',
      '# 20,80',
      'Freq,SPL',
      '20,80.5',
      '# 21,10',
      '% 22,10',
      '* 23,10',
      '// 24,10',
      '; 25,10',
      'and so it went on, as 2 or 3 times before',
      '"a line, quoted, that never ends',
      '30,81.5',
      '',
      '40,82.5',
      'end of data, 2 pages',
    ].join('\n');
    const { frequencyHz, levelDb, notes } = read(text);
    expect(frequencyHz).toEqual([20, 30, 40]);
    expect(levelDb).toEqual([80.5, 81.5, 82.5]);
    expect(notes).toContainEqual(note('text-skipped', { count: 8 }, { lines: [5, 6, 7, 8, 9] }));
  });

  it('does not swallow rows by a quote that is never closed', () => {
    const rows = Array.from({ length: 3000 }, (_, i) => `${i + 1},"80.5"`);
    rows[1500] = '"1501,80.5';
    const { frequencyHz } = read(rows.join('\n'));
    expect(frequencyHz).toHaveLength(2999);
    expect(frequencyHz.at(-1)).toBe(3000);
  });

  it('may be longer than a line of data could be', () => {
    const { frequencyHz, notes } = read(`20,80.5\n${'9,'.repeat(200_000)}\n30,81.5\n40,82.5`);
    expect(frequencyHz).toEqual([20, 30, 40]);
    expect(notes).toContainEqual(note('long-lines-dropped', { count: 1 }, { lines: [2] }));
  });
});

describe('order and repetition', () => {
  it('sorts unsorted frequencies and says so', () => {
    const { frequencyHz, levelDb, notes } = read('40;82\n20;80\n30;81\n');
    expect([frequencyHz, levelDb]).toEqual([
      [20, 30, 40],
      [80, 81, 82],
    ]);
    expect(notes).toContainEqual(note('rows-sorted', {}, { lines: [2] }));
  });

  it('averages repeated frequencies as power: 80 and 86 dB make 83.96 dB', () => {
    // Closed form: 10 lg ((10^8 + 10^8.6) / 2) = 83.9629.
    const { frequencyHz, levelDb, notes } = read('20,80\n30,80\n20,86\n');
    expect(frequencyHz).toEqual([20, 30]);
    expect(levelDb[0]).toBeCloseTo(83.9629, 4);
    expect(notes).toContainEqual(
      note('frequencies-merged-unlike', { count: 1, firstHz: 20, spreadDb: 6 }, { lines: [1, 3] }),
    );
  });

  it('doubts levels of one frequency that are far apart, as of two curves in one file, and no others', () => {
    const severities = (text: string) => read(text).notes.filter(({ code }) => code.startsWith('frequencies-merged'));
    expect(severities('20,80\n20,81\n30,80\n30,81\n')).toMatchObject([{ severity: 'remark', values: { count: 2 } }]);
    expect(severities('20,80\n20,89\n30,80\n30,81\n')).toMatchObject([{ severity: 'doubt', values: { spreadDb: 9 } }]);
  });

  it('averages repeated phases by direction, not by number', () => {
    const { phaseDeg } = read('f,dB,phase\n20,80,170\n20,80,-170\n30,80,10\n30,80,20\n');
    expect(Math.abs(phaseDeg?.[0] as number)).toBeCloseTo(180, 9);
    expect(phaseDeg?.[1]).toBeCloseTo(15, 9);
  });

  it('leaves equal repeated rows as they are, to the last bit', () => {
    expect(read('20,80.1,190\n20,80.1,190\n30,80.1,5\n')).toMatchObject({ levelDb: [80.1, 80.1], phaseDeg: [190, 5] });
  });
});

describe('further columns', () => {
  it('are dropped row by row where a few values are missing', () => {
    const rows = Array.from({ length: 40 }, (_, i) => `${20 + i};80;${i === 7 ? 'NaN' : i}`);
    const { phaseDeg, notes } = read(`f;dB;phase\n${rows.join('\n')}`);
    expect(phaseDeg).toHaveLength(39);
    expect(notes).toContainEqual(note('rows-dropped', { count: 1, why: 'phase-missing' }, { lines: [9] }));
  });

  it('are left out where many are', () => {
    const { frequencyHz, phaseDeg, notes } = read('f;dB;phase\n20;80;\n25;81;4\n30;82;\n');
    expect(frequencyHz).toEqual([20, 25, 30]);
    expect(phaseDeg).toBeUndefined();
    expect(notes).toContainEqual(note('column-left-out', { column: 'phase', missing: 2, of: 3 }, { lines: [2, 4] }));
  });
});

describe('linear magnitude', () => {
  it('becomes 20 lg, and rows that have none are dropped', () => {
    const { levelDb, notes } = read('f,mag\n20,0.1\n25,1\n30,0\n35,-2\n', { levelUnit: 'linear' });
    expect(levelDb).toEqual([-20, 0]);
    expect(notes).toContainEqual(note('rows-dropped', { count: 2, why: 'level-not-positive' }, { lines: [4, 5] }));
  });
});
