import { describe, expect, it } from 'vitest';
import {
  formatCount,
  formatDb,
  formatDbChange,
  formatHz,
  formatHzRange,
  formatList,
  formatNumber,
  formatShort,
  formatSigned,
} from '../../lib/report/format';

describe('numbers as written in prose', () => {
  it('give frequencies three significant digits and hold the unit to them', () => {
    expect(formatHz(18.24)).toBe('18.2\u00a0Hz');
    expect(formatHz(104.4)).toBe('104\u00a0Hz');
    expect(formatHz(9.996)).toBe('10\u00a0Hz');
    expect(formatHz(1234)).toBe('1230\u00a0Hz');
    expect(formatHzRange(18.24, 104.4)).toBe('18.2\u2013104\u00a0Hz');
  });

  it('give levels one decimal and a true minus, and know no negative zero', () => {
    expect(formatDb(96.44)).toBe('96.4\u00a0dB');
    expect(formatDb(-3)).toBe('\u22123.0\u00a0dB');
    expect(formatDb(-0.04)).toBe('0.0\u00a0dB');
    expect(formatDbChange(12)).toBe('+12.0\u00a0dB');
    expect(formatSigned(0.04, 1)).toBe('0.0');
    expect(formatNumber(-0.006, 2)).toBe('\u22120.01');
  });

  it('drop decimals that say nothing where asked to', () => {
    expect(formatShort(5)).toBe('5');
    expect(formatShort(4.5)).toBe('4.5');
    expect(formatShort(-12.04)).toBe('\u221212');
    expect(formatShort(2.914, 2)).toBe('2.91');
  });

  it('join lists and count things as a person would', () => {
    expect(formatList(['a'])).toBe('a');
    expect(formatList(['a', 'b', 'c'])).toBe('a, b and c');
    expect(formatCount(1, 'dip')).toBe('1 dip');
    expect(formatCount(0, 'dip')).toBe('0 dips');
  });
});
