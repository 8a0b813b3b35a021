import { describe, expect, it } from 'vitest';
import { importText } from '../../lib/import/importText';

// One curve, invented, in every way of writing it.
const FREQUENCIES = [10, 12.5, 16, 20, 25.25, 31.5, 40, 50, 63, 80, 100, 125, 1000, 1250.5];
const LEVELS = FREQUENCIES.map((_, i) => Number((80 + 9 * Math.sin(i)).toFixed(3)));
const PHASES = FREQUENCIES.map((_, i) => Number((-170.5 + 23.1 * i).toFixed(2)));

const DELIMITERS = { comma: ',', semicolon: ';', tab: '\t', blank: ' ', blanks: '   ', 'tab and blanks': ' \t ' };
const HEADINGS: Record<string, (delimiter: string) => string[]> = {
  none: () => [],
  names: (d) => [['Freq', 'SPL', 'Phase'].join(d)],
  'names with units': (d) => [['Frequency (Hz)', 'Level (dB)', 'Phase (deg)'].join(d)],
  'comments and names': (d) => ['# Unit A, 2 m', `# ${['Freq[Hz]', 'Mag[dB]', 'Phase[deg]'].join(d)}`, '* x'],
  prose: () => ['Measured in a room, at 2 m', '', 'second run of 3'],
};
const ENCODINGS: Record<string, (text: string) => string | Uint8Array> = {
  text: (text) => text,
  utf8: (text) => Buffer.from(text),
  'utf8 with mark': (text) => Buffer.from(`\ufeff${text}`),
  utf16le: (text) => Buffer.from(`\ufeff${text}`, 'utf16le'),
  'utf16be without mark': (text) => Buffer.from(text, 'utf16le').swap16(),
  latin1: (text) => Buffer.from(`${text}# caf\u00e9`, 'latin1'),
};
const NOTATIONS: Record<string, (value: number) => string> = {
  shortest: String,
  fixed: (value) => value.toFixed(3),
  scientific: (value) => value.toExponential(6).replace('e+', 'E+0'),
  signed: (value) => (value < 0 ? `\u2212${-value}` : `+${value}`),
};

describe('the same curve is read', () => {
  for (const [delimiterName, delimiter] of Object.entries(DELIMITERS)) {
    for (const decimal of delimiter === ',' ? ['.'] : ['.', ',']) {
      for (const quote of ['', '"']) {
        it(`from ${delimiterName}s with decimal ${decimal === '.' ? 'points' : 'commas'}${quote && ' in quotes'}`, () => {
          const notations = Object.entries(NOTATIONS);
          let turn = 0;
          for (const [headingName, heading] of Object.entries(HEADINGS)) {
            for (const newline of ['\n', '\r\n', '\r']) {
              for (const [encodingName, encode] of Object.entries(ENCODINGS)) {
                // Every notation meets every other choice, though not every combination of them. Latin-1 has no U+2212.
                const [notationName, notation] = notations[turn++ % (encodingName === 'latin1' ? 3 : 4)];
                const cell = (value: number) => quote + notation(value).replace('.', decimal) + quote;
                const rows = FREQUENCIES.map((f, i) => [f, LEVELS[i], PHASES[i]].map(cell).join(delimiter));
                const text = [...heading(delimiter), ...rows, ''].join(newline);
                const { curve } = importText(encode(text));
                const how = [headingName, JSON.stringify(newline), encodingName, notationName].join(', ');
                expect(curve.frequencyHz, how).toEqual(FREQUENCIES);
                expect(curve.levelDb, how).toEqual(LEVELS);
                expect(curve.phaseDeg, how).toEqual(PHASES);
              }
            }
          }
        });
      }
    }
  }
});
