import { describe, expect, it } from 'vitest';
import { importText } from '../../lib/import/importText';
import { BassloomError } from '../../lib/model/errors';
import { note } from '../note';

// All data invented.
const HZ = [20, 25, 31.5, 40, 50, 63, 80, 100, 125, 160];
const DB = [71.2, 75.9, 80.4, 84.1, 86.6, 87.2, 85.9, 86.3, 84.8, 83.1];
const rowsOf = (...columns: (number | string)[][]) =>
  columns[0].map((_, i) => columns.map((column) => column[i]).join(';'));
const textOf = (heading: string, ...columns: (number | string)[][]) =>
  [heading, ...rowsOf(...columns)].filter(Boolean).join('\n');

function read(text: string, options = {}) {
  const { curve, notes } = importText(text, options);
  const doubts = notes.filter(({ severity }) => severity === 'doubt');
  return { ...curve, notes, doubts, doubtCodes: doubts.map(({ code }) => code) };
}

function codeOf(text: string): string {
  try {
    importText(text);
  } catch (error) {
    expect(error).toBeInstanceOf(BassloomError);
    return (error as BassloomError).code;
  }
  return 'was read';
}

describe('a remark is no heading', () => {
  const remarks = [
    '# Sample rate: 48000 Hz',
    '# level 94.0 dB at 1000 Hz',
    '# Pegel 94,0 dB bei 1000 Hz',
    '# Niveau 94,0 dB à 1000 Hz',
    '# Nivel 94 dB a 1 kHz',
    '# livello 94 dB, 1000 Hz',
    '# Уровень 94 дБ, 1000 Гц',
    '# レベル 94 dB 1000 Hz',
    '# SPL 94 Hz 1000',
    'level, as measured, in Pa or kHz',
    'Response, frequency resolution 1 Hz',
    'Sampling frequency 48000; level 0',
    'taken in kHz or in Pa; as you like it',
  ];
  it.each(remarks)('%s', (remark) => {
    for (const delimiter of [';', ',', '\t', '  ']) {
      const rows = rowsOf(HZ, DB).map((row) => row.replaceAll(';', delimiter));
      const above = read([remark, ...rows].join('\n'));
      expect([above.frequencyHz, above.levelDb, above.doubts]).toEqual([HZ, DB, []]);
      const below = read([rows[0], remark, ...rows.slice(1)].join('\n'));
      expect([below.frequencyHz, below.levelDb]).toEqual([HZ, DB]);
      expect(below.notes).toContainEqual(note('text-skipped', { count: 1 }, { lines: [2] }));
    }
  });

  it('where it stands away from the data, but a doubt that names its line if it says otherwise', () => {
    const away = read(`# Frequency (kHz);Level (dB)\n# run 3, seat 2\n${rowsOf(HZ, DB).join('\n')}`);
    expect(away.frequencyHz).toEqual(HZ);
    expect(away.doubts).toEqual([note('heading-passed-over', {}, { lines: [1] })]);
    const same = read(`# Frequency (Hz);Level (dB)\n# run 3, seat 2\n${rowsOf(HZ, DB).join('\n')}`);
    expect(same.doubts).toEqual([]);
  });

  it('where the data contradicts it', () => {
    const levels = [84, 83, 85, 82, 86, 81, 87, 80, 88, 79];
    const { frequencyHz, doubts } = read(textOf('Level (dB);Frequency (Hz)', HZ, levels));
    expect(frequencyHz).toEqual(HZ);
    expect(doubts).toEqual([note('heading-passed-over', {}, { lines: [1] })]);
  });

  it.each(['Time;Level', 'Time (s);SPL (dB)', 'Distance (m);Level (dB)'])('and %s is that of another thing', (line) => {
    expect(read(textOf(line, HZ, DB)).doubts).toEqual([note('heading-passed-over', {}, { lines: [1] })]);
  });

  it('while an unmarked heading is one above marked remarks', () => {
    const { frequencyHz, doubts } = read(`Level (dB);Frequency (Hz)\n# run 3\n${rowsOf(DB, HZ).join('\n')}`);
    expect([frequencyHz, doubts]).toEqual([HZ, []]);
  });
});

describe('the frequency is the column that rises', () => {
  it('whatever the order, without a doubt where no other does', () => {
    const { frequencyHz, levelDb, doubts } = read(textOf('', DB, HZ));
    expect([frequencyHz, levelDb, doubts]).toEqual([HZ, DB, []]);
  });

  it('with a doubt that names the other where two rise alike', () => {
    const { frequencyHz, doubts } = read(textOf('', [40, 41, 43, 47, 48], [52, 53, 57, 58, 63]));
    expect(frequencyHz).toEqual([40, 41, 43, 47, 48]);
    expect(doubts).toContainEqual(note('frequency-column-unsure', { taken: 1, others: '2', rises: true }));
  });

  it('without one where only one of them goes in even steps and spans the octaves of frequencies', () => {
    const { doubts } = read(textOf('', [10, 20, 30, 40, 50, 60], [61, 63, 70, 71, 74, 78]));
    expect(doubts).toEqual([]);
  });

  it('with a doubt where none does', () => {
    const { doubtCodes } = read(textOf('', [40, 20, 80, 31.5, 50, 25, 63], [80, 70, 82, 78, 79, 75.5, 81]));
    expect(doubtCodes).toEqual(['frequency-column-unsure']);
  });

  it('and not the count of the rows, also where frequencies are repeated', () => {
    const twice = HZ.flatMap((hz) => [hz, hz]);
    const levels = DB.flatMap((db) => [db, db + 0.4]);
    const { frequencyHz, notes, doubts } = read(
      textOf(
        '',
        twice.map((_, i) => i + 1),
        twice,
        levels,
      ),
    );
    expect(frequencyHz).toEqual(HZ);
    expect(notes).toContainEqual(note('row-numbers-left-out', { column: 1 }));
    expect(notes).toContainEqual(note('frequencies-merged', { count: 10 }));
    expect(doubts).toEqual([]);
  });

  it.each([
    ['kHz', HZ.map((hz) => hz / 1000), 'kHz'],
    ['mHz', HZ.map((hz) => hz * 1000), 'mHz'],
    ['MHz', HZ.map((hz) => (hz / 1e6).toFixed(7)), 'MHz'],
    ['rad/s', HZ.map((hz) => hz * 2 * Math.PI), 'rad/s'],
    ['кГц', HZ.map((hz) => hz / 1000), 'kHz'],
  ])('in %s', (unit, values, read_) => {
    const { frequencyHz, notes, doubts } = read(textOf(`Frequency (${unit});Level (dB)`, values, DB));
    frequencyHz.forEach((hz, i) => {
      expect(hz).toBeCloseTo(HZ[i], 9);
    });
    expect(notes).toContainEqual(note('frequency-unit', { unit: read_, from: 'heading' }, { lines: [1] }));
    expect(doubts).toEqual([]);
  });

  it.each(['mhz', 'cpm', 'GHz'])('with a doubt in %s, which has two readings or none', (unit) => {
    expect(read(textOf(`Frequency (${unit});Level (dB)`, HZ, DB)).doubtCodes).toEqual(['frequency-unit-odd']);
  });
});

describe('a level must look like one', () => {
  const thd = [9.1, 6.2, 3.3, 2.1, 1.2, 0.9, 0.7, 0.66, 0.5, 0.45];
  const ohms = [7.1, 9.3, 14.2, 28.4, 19.9, 11.2, 8.0, 7.2, 6.9, 6.8];
  const coherence = [0.61, 0.78, 0.91, 0.97, 0.99, 0.98, 0.99, 0.99, 0.97, 0.98];
  const delay = [32.1, 24.2, 17.7, 12.3, 9.9, 8.1, 6.6, 5.2, 4.1, 3.9];
  it.each<[string, number[]]>([
    ['THD (%)', thd],
    ['Klirrfaktor', thd],
    ['Impedance (Ohm)', ohms],
    ['|Z| [\u03a9]', ohms],
    ['Coherence', coherence],
    ['Group delay (ms)', delay],
    ['Retardo de grupo (ms)', delay],
    ['Target (dB)', DB],
    ['Re(H)', coherence],
  ])('%s is none: refused by its name, doubted without', (name, values) => {
    expect(codeOf(textOf(`Frequency (Hz);${name}`, HZ, values))).toBe('no-level-column');
    if (values !== DB) expect(read(textOf('', HZ, values)).doubtCodes).toContain('level-unit-unsure');
  });

  it('real and imaginary parts are none', () => {
    const real = HZ.map((_, i) => Number((0.8 * Math.cos(i)).toFixed(4)));
    const imaginary = HZ.map((_, i) => Number((0.8 * Math.sin(i)).toFixed(4)));
    expect(codeOf(textOf('Frequency (Hz);Real;Imag', HZ, real, imaginary))).toBe('no-level-column');
    expect(read(textOf('', HZ, real, imaginary)).doubts).toContainEqual(
      note('phase-column-unsure', { level: 2, phase: 3 }),
    );
  });

  it('a linear magnitude is doubted where its unit is not said, and converted where it is', () => {
    const volts = DB.map((db) => Number((10 ** ((db - 90) / 20)).toFixed(6)));
    const millivolts = volts.map((v) => Number((1000 * v).toFixed(3)));
    expect(read(textOf('Frequency (Hz);Magnitude', HZ, volts)).doubtCodes).toEqual(['level-unit-unsure']);
    for (const [unit, values] of [
      ['V', volts],
      ['mV', millivolts],
      ['linear', volts],
    ] as const) {
      const { levelDb, scale, doubts } = read(textOf(`Frequency (Hz);Magnitude (${unit})`, HZ, values));
      levelDb.forEach((db, i) => {
        expect(db).toBeCloseTo(DB[i] - 90, 3);
      });
      expect([scale, doubts]).toEqual(['relative', []]);
    }
  });

  it('sound pressure in mPa is level re 20 uPa (ISO 1683), with a noise in dB left as it is', () => {
    const pressures = DB.map((db) => (20e-3 * 10 ** (db / 20)).toFixed(6));
    const { levelDb, noiseDb, scale } = read(textOf('Frequency (Hz);Pressure (mPa);Noise (dB)', HZ, pressures, DB));
    expect(levelDb[0]).toBeCloseTo(DB[0], 3);
    expect([noiseDb, scale]).toEqual([DB, 'spl']);
  });

  it('the target before the measured level is passed over, and one of several levels taken with a doubt', () => {
    const flat = HZ.map(() => 85);
    const target = read(textOf('Frequency (Hz);Target (dB);Level (dB)', HZ, flat, DB));
    expect([target.levelDb, target.doubts]).toEqual([DB, []]);
    const several = read(textOf('Frequency (Hz);Level 1 (dB);Level 2 (dB)', HZ, flat, DB));
    expect(several.doubts).toEqual([note('columns-alike', { kind: 'level', taken: 2, others: '3' })]);
    expect(read(textOf('', HZ, flat, DB)).doubtCodes).toContain('phase-column-unsure');
  });

  it('commas for decimals and columns are seen past a row without a number', () => {
    expect(codeOf('20,5,80,1\n20,6,80,2\nNaN,NaN\n20,7,80,3\n20,8,80,4\n')).toBe('ambiguous-decimal');
  });
});

describe('numbers that are no points', () => {
  it('in words are dropped and named', () => {
    const { frequencyHz, notes } = read(`48000 24 bit\n${rowsOf(HZ, DB).join('\n').replaceAll(';', ' ')}`);
    expect(frequencyHz).toEqual(HZ);
    expect(notes).toContainEqual(note('rows-dropped', { count: 1, why: 'words-in-row' }, { lines: [1] }));
  });

  it.each([
    ['before', ['48000;24', ...rowsOf(HZ, DB)], [1]],
    ['after', [...rowsOf(HZ, DB), '', '10;24'], [12]],
  ])('out of order %s the data are dropped with a doubt', (_, lines, where) => {
    const { frequencyHz, doubts } = read(lines.join('\n'));
    expect(frequencyHz).toEqual(HZ);
    expect(doubts).toEqual([note('rows-dropped', { count: 1, why: 'out-of-order' }, { lines: where })]);
  });

  it('far above the others are kept with a doubt', () => {
    const { doubts } = read([...rowsOf(HZ, DB), '48000;24'].join('\n'));
    expect(doubts).toEqual([note('row-apart', { hz: 48000, db: 24 }, { lines: [11] })]);
  });

  it('above the heading are dropped and named', () => {
    const { frequencyHz, notes, doubts } = read(['48000;24', 'Frequency;Level', ...rowsOf(HZ, DB)].join('\n'));
    expect([frequencyHz, doubts]).toEqual([HZ, []]);
    expect(notes).toContainEqual(note('rows-dropped', { count: 1, why: 'above-heading' }, { lines: [1] }));
  });
});

describe('several curves in one file', () => {
  it('are doubted where the frequencies start again without a heading', () => {
    const lower = DB.map((db) => db - 1);
    const shifted = HZ.map((hz) => hz + 1);
    const { doubts } = read([...rowsOf(HZ, DB), '', ...rowsOf(shifted, lower)].join('\n'));
    expect(doubts).toEqual([note('rows-start-again', { turns: 1 }, { lines: [12] })]);
  });

  it('are refused where a second heading stands between, also on another grid', () => {
    const heading = 'Frequency;Level';
    const shifted = HZ.map((hz) => hz + 1);
    expect(codeOf([heading, ...rowsOf(HZ, DB), heading, ...rowsOf(shifted, DB)].join('\n'))).toBe('several-curves');
  });
});

describe('a normal file is read without a doubt', () => {
  const phase = HZ.map((_, i) => 170 - 31 * i);
  const relative = DB.map((db) => Number((db - 85).toFixed(1)));
  it.each<[string, string]>([
    ['two columns, nothing said', textOf('', HZ, DB)],
    ['three columns, nothing said', textOf('', HZ, DB, phase)],
    ['relative levels', textOf('', HZ, relative, phase)],
    ['headings', textOf('Frequency (Hz);SPL (dB);Phase (degrees)', HZ, DB, phase)],
    ['marked headings', textOf('* Freq(Hz);SPL(dB);Phase(deg)', HZ, DB, phase)],
    ['headings in an unknown language, with units', textOf('Συχνότητα (Hz);Στάθμη (dB)', HZ, DB)],
    ['headings of unknown words', textOf('Taajuustaso;Hladina', HZ, DB)],
    [
      'a coherence beside',
      textOf(
        'Freq;Level;Phase;Coherence',
        HZ,
        DB,
        phase,
        HZ.map(() => 0.98),
      ),
    ],
    ['a row without a level', textOf('Freq;Level', HZ, ['NaN', ...DB.slice(1)])],
    ['from the highest frequency down', textOf('Freq;Level', HZ.toReversed(), DB)],
    ['a remark at the end', `${textOf('Freq;Level', HZ, DB)}\nend of data, 10 points`],
  ])('%s', (_, text) => {
    const { frequencyHz, doubts } = read(text);
    expect(doubts).toEqual([]);
    expect(frequencyHz.length).toBeGreaterThanOrEqual(9);
  });

  it('as is a microphone correction with a small phase', () => {
    const { phaseDeg, doubts } = read(
      textOf(
        '',
        HZ,
        relative,
        HZ.map((_, i) => 12 - i),
      ),
      { role: 'correction' },
    );
    expect([phaseDeg?.length, doubts]).toEqual([10, []]);
  });
});

describe('a text of one thing over and over is refused at once', () => {
  it.each([
    ['a letter', 'a'.repeat(3e6), 'no-lines'],
    ['a return', '\r'.repeat(3e6), 'empty'],
    ['a byte that is no character', Buffer.alloc(3e6, 0xff), 'no-lines'],
    ['a quote on each line below data', `20,80\n25,81\n${'"\n'.repeat(300)}`, 'too-many-lines'],
    ['a remark on each line below data', `20,80\n25,81\n${'no data\n'.repeat(300)}`, 'too-many-lines'],
  ])('%s', (_, source, code) => {
    expect(() => importText(source, { maxPoints: 200 })).toThrow(expect.objectContaining({ code }));
  });
});
