import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { importText } from '../../lib/import/importText';
import { isNoiseName } from '../../lib/import/isNoiseName';
import { readFileName } from '../../lib/import/readFileName';
import { BassloomError } from '../../lib/model/errors';

/** Reads or refuses; anything else fails the test. What was read must be a sound curve. */
function readOrRefuse(source: string | Uint8Array, options = {}): void {
  try {
    const { curve, notes } = importText(source, options);
    expect(curve.frequencyHz.length).toBeGreaterThanOrEqual(2);
    expect(curve.frequencyHz.every((f, i, all) => f > 0 && (i === 0 || f > all[i - 1]))).toBe(true);
    expect(curve.levelDb.every((level) => Math.abs(level) <= 300)).toBe(true);
    expect(notes.every((note) => note.message.length < 2000)).toBe(true);
  } catch (error) {
    if (!(error instanceof BassloomError)) throw error;
    expect(error.message.length).toBeLessThan(3000);
  }
}

const scrap = fc.oneof(
  fc.constantFrom(
    ',',
    ';',
    '\t',
    ' ',
    '\n',
    '\r',
    '"',
    '""',
    '#',
    '//',
    '-',
    '+',
    '.',
    'e',
    'E+',
    '\u2212',
    '\u00a0',
    '20',
    '80,5',
    '80.5',
    '1,234',
    '1.234,5',
    'NaN',
    'inf',
    'Freq',
    'SPL (dB)',
    'Phase',
    'kHz',
    '\0',
    '\ufeff',
    '__proto__',
    '<html',
    "'",
  ),
  fc.integer({ min: -1000, max: 30000 }).map(String),
  fc.string({ unit: 'binary', maxLength: 3 }),
);

describe('any input is either read or refused', () => {
  it('whatever the text', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary', maxLength: 300 }), (text) => readOrRefuse(text)),
      { numRuns: 300 },
    );
  });

  it('whatever the bytes', () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 400 }), (bytes) => readOrRefuse(bytes)),
      { numRuns: 300 },
    );
  });

  it('whatever scraps of measurements it is made of', () => {
    const text = fc.array(scrap, { maxLength: 120 }).map((scraps) => scraps.join(''));
    const options = fc.record(
      {
        delimiter: fc.constantFrom(',', ';', '\t', ' ', '|'),
        decimal: fc.constantFrom('.', ','),
        columns: fc.record(
          { level: fc.oneof(fc.constantFrom('SPL', '__proto__', '2'), fc.integer({ min: 1, max: 4 })) },
          { requiredKeys: [] },
        ),
        levelUnit: fc.constantFrom('dB', 'linear'),
        frequencyUnit: fc.constantFrom('Hz', 'kHz'),
      },
      { requiredKeys: [] },
    );
    fc.assert(fc.property(text, options, readOrRefuse), { numRuns: 2000 });
  });

  it('whatever damage was done to a sound file', () => {
    const sound = `Freq (Hz);SPL (dB)\r\n${Array.from({ length: 30 }, (_, i) => `${20 + i},5;${80 + i},25`).join('\r\n')}`;
    const cut = fc.tuple(fc.nat(sound.length), fc.nat(5), scrap);
    fc.assert(
      fc.property(fc.array(cut, { maxLength: 5 }), (cuts) => {
        readOrRefuse(
          cuts.reduce((text, [at, length, put]) => text.slice(0, at) + put + text.slice(at + length), sound),
        );
      }),
      { numRuns: 500 },
    );
  });

  it('whatever the name and the pattern', () => {
    const piece = fc.oneof(
      fc.constantFrom('{device}', '{step}', '{*}', '{', '}', '/', '\\', '_', '-', '.', '12', '{driveDb}', '{takenAt}'),
      fc.string({ maxLength: 3 }),
    );
    const name = fc.array(piece, { maxLength: 10 }).map((pieces) => pieces.join(''));
    fc.assert(
      fc.property(name, name, (file, pattern) => {
        isNoiseName(file);
        try {
          const { about } = readFileName(file, pattern);
          expect(Object.values(about).every((value) => value !== '' && !Number.isNaN(value))).toBe(true);
        } catch (error) {
          if (!(error instanceof BassloomError)) throw error;
        }
      }),
      { numRuns: 2000 },
    );
  });
});

describe('time grows in step with size', () => {
  // Processor time, the least of several: other programs must not decide.
  const timeOf = (work: () => unknown): number => {
    const times = Array.from({ length: 3 }, () => {
      const start = process.cpuUsage();
      work();
      const { user, system } = process.cpuUsage(start);
      return (user + system) / 1000;
    });
    return Math.min(...times);
  };
  const expectLinear = (work: (size: number) => unknown, size: number) => {
    const small = Math.max(
      timeOf(() => work(size)),
      2, // below that the clock and the collector decide
    );
    // Ten times the size in ten times the time; quadratic time would take a hundred times.
    expect(timeOf(() => work(10 * size)) / small).toBeLessThan(40);
  };

  it.each<[string, (n: number) => string]>([
    ['rows', (n) => Array.from({ length: n / 10 }, (_, i) => `${i + 1},80.5`).join('\n')],
    ['rows in quotes', (n) => Array.from({ length: n / 10 }, (_, i) => `"${i + 1}","80.5"`).join('\n')],
    ['rows in reverse', (n) => Array.from({ length: n / 10 }, (_, i) => `${n - i},80.5`).join('\n')],
    ['one frequency over and over', (n) => '20,80.5\n'.repeat(n / 10)],
    ['lines of text', (n) => 'no data here, none\n'.repeat(n / 20)],
    ['headings over and over', (n) => `20,80\n${'Freq,SPL\n'.repeat(n / 10)}25,81`],
    ['open quotes', (n) => '"20,80.5\n'.repeat(n / 10)],
    ['quotes alone', (n) => '"'.repeat(n)],
    ['quotes and commas', (n) => '",'.repeat(n / 2)],
    ['quotes that do not close a field', (n) => `20,80\n25,81\n"${'x"y'.repeat(n / 3)}`],
    ['digits alone', (n) => '1'.repeat(n)],
    ['digits and a letter', (n) => `20,80\n25,81\n${'1'.repeat(n)}x,1`],
    ['groups of thousands', (n) => `20;80\n25;81\n${'1,000'.repeat(n / 5)}x;1`],
    ['minus signs', (n) => '\u2212'.repeat(n)],
    ['blanks', (n) => `20 80\n25 81\n${' '.repeat(n)}x`],
    ['blanks and tabs in turn', (n) => `20 80\n25 81\n${' \t'.repeat(n / 2)}x`],
    ['brackets', (n) => `${'('.repeat(Math.min(n, 15_000))},SPL\n20,80\n25,81`.repeat(1 + n / 15_000)],
    ['comment signs', (n) => '#'.repeat(n)],
    ['line ends', (n) => `20,80\n25,81${'\r\n'.repeat(n / 2)}`],
    ['many columns', (n) => `${'1,'.repeat(100)}\n`.repeat(n / 200)],
  ])('for %s', (_, make) => {
    const texts = new Map([40_000, 400_000].map((size) => [size, make(size)]));
    expectLinear((size) => readOrRefuse(texts.get(size) as string), 40_000);
  });

  it('for a name with a long pattern', () => {
    expectLinear((size) => {
      readFileName('a-'.repeat(size), '{device}-b{setting}-c{position}-{step}');
      readFileName('-1'.repeat(size), '{device}-{setting}-{*}-{step}');
    }, 5000);
  });
});
