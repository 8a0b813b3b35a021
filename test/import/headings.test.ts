import { describe, expect, it } from 'vitest';
import { readHeadingCell } from '../../lib/import/headingWords';
import { importText } from '../../lib/import/importText';
import type { TextImport } from '../../lib/model/step';
import { note } from '../note';

const columnsOf = (text: string, options = {}) => (importText(text, options).curve.steps[0].with as TextImport).columns;

describe('headings', () => {
  it.each(['SPL 94.0 dB, cal 1000 Hz', '* 20 dB offset', 'Level: -3 dB, from 2000 Hz', 'cal 114dB,1kHz'])(
    'are not seen in a line of prose that tells values: %s',
    (prose) => {
      for (const delimiter of [',', '\t', ' ']) {
        const rows = ['10,60', '20,70.5', '40,80', '80,85'].map((row) => row.replace(',', delimiter));
        const { curve } = importText(`${prose}\n${rows.join('\n')}\n`);
        expect(curve.frequencyHz).toEqual([10, 20, 40, 80]);
        expect(curve.levelDb).toEqual([60, 70.5, 80, 85]);
      }
    },
  );

  it.each([
    ['Freq', 'SPL', 'Phase'],
    ['Frequency (Hz)', 'Magnitude (dB)', 'Phase (deg)'],
    ['f', 'dB', 'deg'],
    ['Hz', 'Level', '°'],
    ['Frequenz', 'Schalldruckpegel', 'Phasenwinkel'],
    ['Fréquence', 'Niveau', 'Phase'],
    ['Frequenza', 'Livello', 'Fase'],
    ['Frecuencia', 'Nivel', 'Fase'],
    ['Frequência', 'Nível', 'Fase'],
    ['Frequentie', 'Niveau', 'Fase'],
    ['Frekvens', 'Nivå', 'Fas'],
    ['Częstotliwość', 'Poziom', 'Faza'],
    ['Taajuus', 'Taso', 'Vaihe'],
    ['Частота', 'Уровень', 'Фаза'],
    ['周波数', 'レベル', '位相'],
    ['주파수', '音圧', '相位'],
    ['frequencyHz', 'levelDb', 'phaseDeg'],
    ['Frequency', 'Frequency response', 'Phase response'],
  ])('understands %s, %s, %s', (...headings) => {
    expect(headings.map((heading) => readHeadingCell(heading).kind)).toEqual(['frequency', 'level', 'phase']);
    const reversed = `${[...headings].reverse().join(';')}\n-10;80,5;20\n-20;81,5;25\n`;
    expect(columnsOf(reversed)).toEqual({ frequency: 3, level: 2, phase: 1 });
  });

  it.each(['Noise', 'Noise level (dB)', 'Störpegel', 'Bruit de fond', 'Rumore', 'Ruido (dB)', 'Шум'])(
    'understands %s as noise',
    (heading) => {
      const { curve } = importText(`Freq;${heading};SPL\n20;30,5;80\n25;31;81\n`);
      expect(curve.noiseDb).toEqual([30.5, 31]);
      expect(curve.levelDb).toEqual([80, 81]);
    },
  );

  it('passes over columns that are something else', () => {
    expect(columnsOf('THD (dB),Freq,2nd harmonic level,SPL,Delay\n-40,20,-50,80,1\n-41,25,-51,81,1\n')).toEqual({
      frequency: 2,
      level: 4,
    });
  });

  it.each([
    ['commented with #', '# Freq, SPL\n'],
    ['commented with *', '* Freq, SPL\n'],
    ['commented with ;', '; Freq, SPL\n'],
    ['commented with //', '// Freq, SPL\n'],
    ['commented with %', '% Freq, SPL\n'],
    ['quoted', '"Freq","SPL"\n'],
    ['over two lines in quotes', '"Freq\n(Hz)","SPL\n(dB)"\n'],
    ['with units on a line of their own', 'Freq,SPL\nHz,dB\n'],
    ['above more comments', 'Freq,SPL\n# taken in the morning\n\n'],
    ['below prose', 'A response, measured at 2 m,\nlevel not adjusted\n48000\nFreq,SPL\n'],
    ['parted otherwise than the data', 'Freq [Hz]   SPL [dB]\n'],
  ])('are found %s', (_, heading) => {
    const { curve, notes } = importText(`${heading}20,80.5\n25,81.5\n`);
    expect(curve.scale).toBe('spl');
    expect(curve.frequencyHz).toEqual([20, 25]);
    expect(notes).toContainEqual(note('columns-chosen', {}, { lines: [expect.any(Number)] }));
  });

  it.each([
    'Freq(Hz) SPL(dB) Phase(deg)',
    'Freq (Hz) SPL (dB) Phase (deg)',
    '* Freq Hz SPL dB Phase deg',
    'Frequency   Sound pressure level   Phase',
    'Frequency Sound pressure level Phase angle',
    '"Freq (Hz)" "SPL (dB)" "Phase (deg)"',
  ])('are found between blanks: %s', (heading) => {
    const { curve } = importText(`${heading}\n20 80.5 -10\n25 81.5 -20\n`);
    expect([curve.levelDb, curve.phaseDeg, curve.scale]).toEqual([[80.5, 81.5], [-10, -20], 'spl']);
  });

  it.each([
    'Response, frequency resolution 1 Hz',
    'Level high, measured at noon',
    '# Level adjusted',
    '# scale: "spl"',
  ])('are not seen in prose: %s', (prose) => {
    const { curve } = importText(`${prose}\n20,80.5\n25,81.5\n30,80\n`);
    expect(curve).toMatchObject({ frequencyHz: [20, 25, 30], levelDb: [80.5, 81.5, 80], scale: 'relative' });
  });

  it('turn kHz into Hz without stray digits', () => {
    const { curve, notes } = importText('Freq [kHz];SPL\n0,0201;80\n0,0203;81\n1,1;82\n');
    expect(curve.frequencyHz).toEqual([20.1, 20.3, 1100]);
    expect(notes).toContainEqual(note('frequency-unit', { unit: 'kHz', from: 'heading' }));
  });

  it('give way to the unit that is asked for', () => {
    const { curve, notes } = importText('Freq [kHz];SPL\n20;80\n25;81\n', { frequencyUnit: 'Hz' });
    expect(curve.frequencyHz).toEqual([20, 25]);
    expect(notes).toContainEqual(note('frequency-unit-against-heading', { unit: 'Hz', heading: 'kHz' }));
  });

  it('turn sound pressure into level: 1 Pa is 93.98 dB re 20 uPa (ISO 1683)', () => {
    const { curve } = importText('Freq,Pressure (Pa)\n20,1\n25,0.02\n');
    expect(curve.levelDb[0]).toBeCloseTo(93.979, 3);
    expect(curve.levelDb[1]).toBeCloseTo(60, 10);
    expect(curve.scale).toBe('spl');
  });

  it('turn radians into degrees', () => {
    expect(importText('Freq,dB,Phase (rad)\n20,1,3.141592653589793\n25,2,0\n').curve.phaseDeg).toEqual([180, 0]);
  });

  it('say whether levels are sound pressure levels', () => {
    const scale = (text: string, options = {}) => importText(text, options).curve.scale;
    const rows = '20;80\n25;81\n';
    expect(scale(`f;dB\n${rows}`)).toBe('relative');
    expect(scale(`f;dB SPL\n${rows}`)).toBe('spl');
    expect(scale(`f;Level (dB re 20 µPa)\n${rows}`)).toBe('spl');
    expect(scale(`# levels in dB re 20 uPa\nf;dB\n${rows}`)).toBe('spl');
    expect(scale(`# no splendid heading\n${rows}`)).toBe('relative');
    expect(scale(`f;SPL\n${rows}`, { scale: 'relative' })).toBe('relative');
  });
});

describe('columns', () => {
  const text = 'Freq (Hz),Left,Right,SPL\n20,1,2,80\n25,3,4,81\n';

  it('can be asked for by heading, in any case and without the unit', () => {
    expect(columnsOf(text, { columns: { frequency: 'freq', level: 'RIGHT' } })).toEqual({ frequency: 1, level: 3 });
  });

  it('can be asked for by number from 1, also as text', () => {
    expect(columnsOf(text, { columns: { level: 2 } })).toEqual({ frequency: 1, level: 2 });
    expect(columnsOf(text, { columns: { level: '3' } })).toEqual({ frequency: 1, level: 3 });
    expect(columnsOf('1 20 80\n2 25 81\n', { columns: { frequency: 2, level: 3 } })).toEqual({
      frequency: 2,
      level: 3,
    });
  });

  it('prefer a heading that is a number to the number', () => {
    expect(columnsOf('Freq,3,2\n20,80,81\n25,81,82\n', { columns: { level: '3' } })).toMatchObject({ level: 2 });
  });

  it('are taken in their order where nothing names them', () => {
    expect(columnsOf('20 80.5 -10\n25 81.5 -20\n')).toEqual({ frequency: 1, level: 2, phase: 3 });
  });

  it('leave out a column that counts the rows', () => {
    const rows = [20, 25, 31.5, 40, 50, 63, 80, 100].map((f, i) => `${i + 1} ${f} ${80 + (i % 2)}`);
    expect(columnsOf(rows.join('\n'))).toEqual({ frequency: 2, level: 3 });
  });

  it('are refused where they are not there, saying which are', () => {
    const ask = (columns: object) => () => importText(text, { columns, name: 'run.txt' });
    expect(ask({ level: 'Middle' })).toThrow(/run\.txt.*'Middle'.*'Freq \(Hz\)', 'Left', 'Right', 'SPL'/);
    expect(ask({ level: 9 })).toThrow(expect.objectContaining({ code: 'column-not-found', field: 'columns.level' }));
    expect(ask({ frequency: 1, level: 1 })).toThrow(expect.objectContaining({ code: 'contradictory-options' }));
    expect(() => importText('eins;zwei\n1;2\n2;3\n', { columns: { level: 'drei' } })).toThrow(/'eins', 'zwei'/);
  });

  it('called __proto__ or constructor are columns like others', () => {
    const nasty = '__proto__,constructor,toString\n20,80.5,1\n25,81.5,2\n';
    expect(columnsOf(nasty, { columns: { frequency: '__proto__', level: 'constructor' } })).toEqual({
      frequency: 1,
      level: 2,
    });
    expect(({} as Record<string, unknown>).level).toBeUndefined();
    expect(Object.getPrototypeOf(importText(nasty).curve)).toBe(Object.prototype);
  });
});
