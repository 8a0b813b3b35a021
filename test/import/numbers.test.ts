import { describe, expect, it } from 'vitest';
import { importText } from '../../lib/import/importText';
import { NumberReader } from '../../lib/import/numberReader';
import { note } from '../note';

describe('numbers', () => {
  it.each([
    ['1.0E+01', 10],
    ['1e1', 10],
    ['1.0D+01', 10],
    ['1.0d-1', 0.1],
    ['+10', 10],
    ['\u221210.5', -10.5],
    ['\u201310.5', -10.5],
    ['- 10.5', -10.5],
    ['\u00a010.5\u2009', 10.5],
    ['.5', 0.5],
    ['5.', 5],
    ['1e\u22123', 0.001],
  ])('reads %j', (cell, value) => {
    expect(new NumberReader('.').read(cell)).toBe(value);
    expect(new NumberReader(',').read(cell.replace('.', cell === '5.' ? '' : ','))).toBe(value);
  });

  it.each([
    '',
    ' ',
    '0x10',
    '1_000',
    'Infinity',
    'NaN',
    '1e',
    '1e+',
    '--5',
    '5-',
    '1.2.3',
    '12 34',
    'e5',
    '\u0661',
    '1,23',
    '0,123',
    '10Hz',
  ])('takes %j for no number', (cell) => {
    expect(new NumberReader('.').read(cell)).toBeNaN();
  });

  it('takes out thousands separators only in whole groups of three', () => {
    const reader = new NumberReader('.');
    expect(reader.read('1,234,567.5')).toBe(1234567.5);
    expect(reader.read("1'234")).toBe(1234);
    expect(reader.grouped).toBe(2);
    for (const cell of ['1,2345', '12,34', '1,234,5', "1,234'567", '0,123']) expect(reader.read(cell)).toBeNaN();
    expect(reader.grouped).toBe(2);
  });

  it('reads such numbers in a text', () => {
    const { curve } = importText('1.0D+01  \u22128.05E1\n2.0D+01  +8.1e+01\n');
    expect(curve.frequencyHz).toEqual([10, 20]);
    expect(curve.levelDb).toEqual([-80.5, 81]);
  });

  it('reads columns parted by no-break blanks, and says so', () => {
    const { curve, notes } = importText('20\u00a080,5\n30\u00a081,5\n');
    expect(curve.levelDb).toEqual([80.5, 81.5]);
    expect(notes).toContainEqual(note('blanks-replaced'));
  });
});
