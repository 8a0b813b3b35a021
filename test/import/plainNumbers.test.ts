import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { splitLine } from '../../lib/import/lines';
import { NumberReader } from '../../lib/import/numberReader';
import { PlainNumbers } from '../../lib/import/plainNumbers';

describe('rows of plain numbers', () => {
  const cell = fc.oneof(
    fc
      .tuple(
        fc.constantFrom('', '+', '-'),
        fc.nat(1e9),
        fc.constantFrom('', '.', ',', 'e'),
        fc.nat(1e7),
        fc.constantFrom('', '"', ' ', 'x'),
      )
      .map((parts) => parts.join('')),
    fc.double({ noNaN: true, noDefaultInfinity: true }).map(String),
    fc.constantFrom(
      '',
      '"20.5"',
      '1,234',
      '5.',
      '.5',
      '-0',
      'NaN',
      '007',
      '123456789012345678',
      '0.000000000000000001',
    ),
  );

  it('are the same numbers as cell by cell, to the last bit, or are left to the thorough reader', () => {
    const row = fc.record({
      cells: fc.array(cell, { minLength: 1, maxLength: 5 }),
      delimiter: fc.constantFrom(';', ',', '\t', ' '),
      decimal: fc.constantFrom('.' as const, ',' as const),
    });
    fc.assert(
      fc.property(row, ({ cells, delimiter, decimal }) => {
        const line = cells.join(delimiter);
        const plain = new PlainNumbers(`x${line}\n`, delimiter, decimal);
        const count = plain.read(1, 1 + line.length);
        if (count === 0) return;
        const reader = new NumberReader(decimal);
        expect(Array.from(plain.values.slice(0, count))).toEqual(
          splitLine(line, delimiter).map((one) => reader.read(one)),
        );
      }),
      { numRuns: 3000, seed: 1 },
    );
  });

  it('are recognised as such', () => {
    for (const [line, delimiter, decimal, values] of [
      ['20.5,-80,"3"', ',', '.', [20.5, -80, 3]],
      ['  20,5   80 ', ' ', ',', [20.5, 80]],
      ['1;2;', ';', '.', [1, 2, Number.NaN]],
    ] as const) {
      const plain = new PlainNumbers(line, delimiter, decimal);
      expect(plain.read(0, line.length)).toBe(values.length);
      expect(Array.from(plain.values.slice(0, values.length))).toEqual(values);
    }
  });
});
