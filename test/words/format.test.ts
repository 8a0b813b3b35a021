import { describe, expect, it } from 'vitest';
import { ENGLISH as say } from '../../lib/words/format';

describe('numbers as written in prose', () => {
  it('give frequencies three significant digits and hold the unit to them', () => {
    expect(say.hz(18.24)).toBe('18.2\u00a0Hz');
    expect(say.hz(104.4)).toBe('104\u00a0Hz');
    expect(say.hz(9.996)).toBe('10\u00a0Hz');
    expect(say.hz(1234)).toBe('1230\u00a0Hz');
    expect(say.hzRange(18.24, 104.4)).toBe('18.2\u2013104\u00a0Hz');
  });

  it('give levels one decimal and a true minus, and know no negative zero', () => {
    expect(say.db(96.44)).toBe('96.4\u00a0dB');
    expect(say.db(-3)).toBe('\u22123.0\u00a0dB');
    expect(say.db(-0.04)).toBe('0.0\u00a0dB');
    expect(say.dbChange(12)).toBe('+12.0\u00a0dB');
    expect(say.signed(0.04, 1)).toBe('0.0');
    expect(say.number(-0.006, 2)).toBe('\u22120.01');
  });

  it('drop decimals that say nothing where asked to', () => {
    expect(say.short(5)).toBe('5');
    expect(say.short(4.5)).toBe('4.5');
    expect(say.short(-12.04)).toBe('\u221212');
    expect(say.short(2.914, 2)).toBe('2.91');
  });

  it('join lists and count things as a person would', () => {
    expect(say.list(['a'])).toBe('a');
    expect(say.list(['a', 'b', 'c'])).toBe('a, b and c');
    expect(say.count(1, 'dip')).toBe('1 dip');
    expect(say.count(0, 'dip')).toBe('0 dips');
  });

  it('spell weighted levels and drives one way', () => {
    expect(say.dbWeighted(94, 'A')).toBe('94.0\u00a0dB(A)');
    expect([-12, 0, 3].map(say.drive)).toEqual(['\u221212\u00a0dB', '0\u00a0dB', '+3\u00a0dB']);
  });
});
