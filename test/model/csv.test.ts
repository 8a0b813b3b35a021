import fc from 'fast-check';
import Papa from 'papaparse';
import { describe, expect, it } from 'vitest';
import { csvCell, csvRows } from '../../lib/model/csv';

describe('cells of delimited text', () => {
  it('leave numbers as numbers, also negative ones and those that are text', () => {
    expect([csvCell(-12.5), csvCell('-12.5'), csvCell('+3'), csvCell(1e-7), csvCell(-0)]).toEqual([
      '-12.5',
      '-12.5',
      '+3',
      '1e-7',
      '-0',
    ]);
  });

  it('are empty where there is nothing to say', () => {
    expect([csvCell(null), csvCell(undefined), csvCell(Number.NaN), csvCell(Number.POSITIVE_INFINITY)]).toEqual([
      '',
      '',
      '',
      '',
    ]);
  });

  // The signs that spreadsheets take for the start of a formula: OWASP, "CSV Injection".
  it.each(['=1+1', '+1+1', '-1+1', '@SUM(A1)', '\t=1', '\r=1', '\n=1', ' =1', '=1\n2', '\uff1d1', '-', '- 3 dB'])(
    'make %j harmless',
    (text) => {
      const [[cell]] = Papa.parse<string[]>(csvCell(text), { delimiter: ',' }).data;
      // a line end or tab may part a cell into two
      expect(cell).toBe(`'${text.replace(/^([\t\r\n])/, "$1'")}`);
    },
  );

  it.each([',', ';', '\t', '|', '\n'])(
    'are harmless whichever separator a spreadsheet parts them at: %j',
    (separator) => {
      const text = `flat${separator} =1+1${separator}"@x"${separator}-3${separator}-cmd`;
      const cells = csvCell(text).replace(/^"|"$/g, '').replaceAll('""', '"').split(separator);
      expect(cells).toEqual(['flat', "' =1+1", `'"@x"`, '-3', "'-cmd"]);
      expect(csvCell(`Unit A${separator}step -3`)).not.toContain("'");
    },
  );

  it('quote what would break the table, for any delimiter', () => {
    expect(csvCell('a,b')).toBe('"a,b"');
    expect(csvCell('a,b', ';')).toBe('a,b');
    expect(csvCell('a;b', ';')).toBe('"a;b"');
    expect(csvCell('say "x"')).toBe('"say ""x"""');
    expect(csvCell('two\nlines')).toBe('"two\nlines"');
  });

  it('come back from any table, text and numbers alike', () => {
    const value = fc.oneof(
      fc.string({ unit: 'binary', maxLength: 12 }).filter((text) => !text.startsWith('\ufeff')),
      fc.double({ noNaN: true, noDefaultInfinity: true }),
    );
    const row = fc.array(value, { minLength: 2, maxLength: 5 });
    fc.assert(
      fc.property(fc.array(row, { minLength: 1, maxLength: 5 }), fc.constantFrom(',', ';', '\t'), (rows, delimiter) => {
        const read = Papa.parse<string[]>(csvRows(rows, delimiter).slice(0, -2), { delimiter, newline: '\r\n' }).data;
        const undo = (cell: string) => cell.replace(/^'(?=\s*[=+\-@\uff1d\uff0b\uff0d\uff20]|[\t\r\n])/, '');
        // -0 and 0 are told apart
        const back = read.map((cells, i) =>
          cells.map((cell, k) => (typeof rows[i]?.[k] === 'number' ? Number(cell) : undo(cell))),
        );
        expect(back).toEqual(rows.map((cells) => cells.map((cell) => (typeof cell === 'number' ? cell : undo(cell)))));
      }),
      { numRuns: 100 },
    );
  });
});
