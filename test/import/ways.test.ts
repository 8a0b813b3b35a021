import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { importText } from '../../lib/import/importText';

// Curves and ways of writing them drawn at random: grids linear and logarithmic, decimals fixed or as many as needed,
// whole numbers too. Frequencies rise, so that even what could be read in two ways is told by their order.
const way = fc.record({
  count: fc.integer({ min: 3, max: 120 }),
  lowHz: fc.constantFrom(2, 5, 10, 20),
  highHz: fc.constantFrom(120, 200, 500, 990, 24_000),
  logarithmic: fc.boolean(),
  levels: fc.array(fc.double({ min: -40, max: 120, noNaN: true }), { minLength: 120, maxLength: 120 }),
  decimals: fc.tuple(fc.nat(4), fc.nat(3), fc.nat(2)),
  fixed: fc.boolean(),
  delimiter: fc.constantFrom(',', ', ', ';', '; ', '\t', ' ', '    '),
  decimalComma: fc.boolean(),
  quoted: fc.boolean(),
  columns: fc.integer({ min: 2, max: 4 }),
  headed: fc.boolean(),
  before: fc.constantFrom([], ['# unit A, 20 m'], ['Measured on 3 May', 'level 80 dB, 24 points'], ['48000', '* x; y']),
});

describe('a curve written in any way', () => {
  it('is read back as it is', () => {
    fc.assert(
      fc.property(way, (w) => {
        const decimal = w.decimalComma && (w.quoted || !w.delimiter.startsWith(',')) ? ',' : '.';
        const headed = w.headed || w.columns === 4 || (w.columns === 3 && w.delimiter.startsWith(','));
        const frequencies = Array.from({ length: w.count }, (_, i) => {
          const t = i / (w.count - 1);
          const hz = w.logarithmic ? w.lowHz * (w.highHz / w.lowHz) ** t : w.lowHz + (w.highHz - w.lowHz) * t;
          return Number(hz.toFixed(w.decimals[0]));
        });
        const rows = frequencies
          .map((f, i) => [
            f,
            Number(w.levels[i].toFixed(w.decimals[1])),
            Number((-170 + (i % 30) * 11.25).toFixed(w.decimals[2])),
            Number((20 + (i % 7) * 1.5).toFixed(1)),
          ])
          .filter(([f], i) => i === 0 || f > frequencies[i - 1]);
        const places = [...w.decimals, 1];
        const cell = (value: number, k: number) => {
          const text = (w.fixed ? value.toFixed(places[k]) : String(value)).replace('.', decimal);
          return w.quoted ? `"${text}"` : text;
        };
        const headings = ['Frequency (Hz)', 'Level (dB)', 'Phase (deg)', 'Noise (dB)'].slice(0, w.columns);
        const heading = headings.map((text) => (w.delimiter === ' ' ? `"${text}"` : text)).join(w.delimiter);
        const lines = rows.map((row) => row.slice(0, w.columns).map(cell).join(w.delimiter));
        const { curve } = importText([...w.before, ...(headed ? [heading] : []), ...lines].join('\n'));
        const column = (k: number) => (k < w.columns ? rows.map((row) => row[k] + 0) : undefined);
        expect([
          curve.frequencyHz,
          curve.levelDb.map((l) => l + 0),
          curve.phaseDeg?.map((p) => p + 0),
          curve.noiseDb,
        ]).toEqual([0, 1, 2, 3].map(column));
      }),
      { numRuns: 1500, seed: 1 },
    );
  });
});
