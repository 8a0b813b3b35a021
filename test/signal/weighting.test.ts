import { describe, expect, it } from 'vitest';
import { weightingDb } from '../../lib/signal/weighting';

// IEC 61672-1:2013, table 3, nominal 10 to 200 Hz; from memory
const A = [-70.4, -63.4, -56.7, -50.5, -44.7, -39.4, -34.6, -30.2, -26.2, -22.5, -19.1, -16.1, -13.4, -10.9];
const C = [-14.3, -11.2, -8.5, -6.2, -4.4, -3.0, -2.0, -1.3, -0.8, -0.5, -0.3, -0.2, -0.1, 0.0];

describe('frequency weighting', () => {
  // the table holds at the exact base-10 frequencies behind the nominal ones, rounded to 0.1 dB
  it.each([
    ['A' as const, A],
    ['C' as const, C],
  ])('%s agrees with the table from 10 to 200 Hz', (weighting, table) => {
    table.forEach((level, i) => {
      expect(Math.abs(weightingDb(weighting, 10 ** (1 + i / 10)) - level)).toBeLessThanOrEqual(0.0501);
    });
  });

  it('is 0 dB at 1 kHz, and Z everywhere', () => {
    expect(weightingDb('A', 1000)).toBe(0);
    expect(weightingDb('C', 1000)).toBe(0);
    expect(weightingDb('Z', 12.5)).toBe(0);
  });

  // the corners of C are defined to be 3 dB down (10 lg 2) at 10^1.5 and 10^3.9 Hz; IEC 61672-1, annex E, from memory
  it('C is half the power at its corners', () => {
    expect(weightingDb('C', 10 ** 1.5)).toBeCloseTo(-10 * Math.log10(2), 6);
    expect(weightingDb('C', 10 ** 3.9)).toBeCloseTo(-10 * Math.log10(2), 6);
  });

  it('refuses what is no frequency and no weighting', () => {
    expect(() => weightingDb('A', 0)).toThrow(expect.objectContaining({ code: 'weighting-frequency' }));
    expect(() => weightingDb('B' as 'A', 100)).toThrow(expect.objectContaining({ code: 'weighting-kind' }));
  });
});
