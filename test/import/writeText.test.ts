import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { importText } from '../../lib/import/importText';
import { writeText } from '../../lib/import/writeText';
import type { Curve } from '../../lib/model/curve';
import { makeCurve } from '../../lib/model/makeCurve';

const finite = fc.double({ noNaN: true, noDefaultInfinity: true });
const text = fc.string({ unit: 'binary', maxLength: 30 });
const anyCurve: fc.Arbitrary<Curve> = fc
  .uniqueArray(fc.double({ min: Number.MIN_VALUE, noNaN: true, noDefaultInfinity: true }), {
    minLength: 2,
    maxLength: 40,
  })
  .chain((frequencies) => {
    const column = <T>(value: fc.Arbitrary<T>) =>
      fc.array(value, { minLength: frequencies.length, maxLength: frequencies.length });
    return fc.record({
      frequencyHz: fc.constant(frequencies.toSorted((a, b) => a - b)),
      levelDb: column(fc.double({ min: -300, max: 300, noNaN: true })),
      phaseDeg: fc.option(column(finite), { nil: undefined }),
      noiseDb: fc.option(column(finite), { nil: undefined }),
      label: text,
      role: fc.constantFrom('response' as const, 'noise' as const, 'correction' as const),
      scale: fc.constantFrom('spl' as const, 'relative' as const),
      about: fc.record(
        { device: text, setting: text, position: text, procedure: text, driveDb: finite, distanceM: finite },
        { requiredKeys: [] },
      ),
    });
  })
  .map((parts) => makeCurve(parts));

describe('writing a curve as text', () => {
  it('and reading it again gives the same numbers, id, label, role, scale and about', () => {
    fc.assert(
      fc.property(anyCurve, (curve) => {
        const { curve: again } = importText(writeText(curve));
        expect(again.id).toBe(curve.id);
        const { steps: _, ...rest } = again;
        const { steps: __, ...wanted } = curve;
        expect(JSON.parse(JSON.stringify(rest))).toEqual(JSON.parse(JSON.stringify(wanted)));
      }),
      { numRuns: 400 },
    );
  });

  it('keeps whole numbers in three columns apart from decimal commas', () => {
    const curve = makeCurve({ frequencyHz: [20, 21, 22], levelDb: [80, 81, 82], phaseDeg: [1, 2, 3] });
    expect(importText(writeText(curve)).curve.id).toBe(curve.id);
  });

  it('is plain: comments, one line of headings, rows', () => {
    const about = { device: 'Unit, A', driveDb: 3 };
    const curve = makeCurve({ frequencyHz: [20, 40], levelDb: [80, -0], scale: 'spl', label: 'unit A', about });
    expect(writeText(curve)).toBe(
      [
        '# Bassloom curve',
        '# label: "unit A"',
        '# role: "response"',
        '# scale: "spl"',
        '# device: "Unit\\u002c A"',
        '# driveDb: 3',
        'frequency (Hz),level (dB SPL)',
        '20,80',
        '40,-0',
        '',
      ].join('\n'),
    );
  });

  it('lets no label start a cell, a row or a formula of its own', () => {
    fc.assert(
      fc.property(text, text, (label, device) => {
        const curve = makeCurve({ frequencyHz: [20, 40], levelDb: [80, 81], label, about: { device } });
        const lines = writeText(curve).split(/[\n\r\u2028\u2029\u0085]/);
        const comments = lines.slice(0, -4);
        expect(comments).toHaveLength(5);
        for (const line of comments) expect(line).toMatch(/^# [^,;\t]*$/);
      }),
    );
    const evil = makeCurve({ frequencyHz: [20, 40], levelDb: [80, 81], label: 'x,=HYPERLINK("a")\n=1+1,2' });
    expect(writeText(evil)).not.toMatch(/[,;\t\n]\s*=/);
  });

  it('is overruled by options when read again', () => {
    const curve = makeCurve({
      frequencyHz: [20, 40],
      levelDb: [80, 81],
      label: 'a',
      role: 'noise',
      scale: 'spl',
      about: { device: 'b', setting: 'c' },
    });
    const options = { name: 'X_y.txt', namePattern: '{device}_{*}', role: 'response', scale: 'relative' } as const;
    expect(importText(writeText(curve), options).curve).toMatchObject({
      label: 'X_y',
      role: 'response',
      scale: 'relative',
      about: { device: 'X', setting: 'c' },
    });
  });

  it('keeps its comments to itself: those of other texts are not read so', () => {
    const { curve } = importText('# other\n# role: "noise"\n# scale: "spl"\n# device: "b"\n20,80\n40,81\n');
    expect(curve).toMatchObject({ role: 'response', scale: 'relative', about: {} });
  });

  it('and comments that were tampered with are passed over', () => {
    const bad =
      '# Bassloom curve\n# role: "king"\n# driveDb: "loud"\n# device: {}\n# __proto__: {"x": 1}\n# label\n20,80\n40,81\n';
    const { curve } = importText(bad);
    expect(curve).toMatchObject({ role: 'response', label: 'curve', about: {} });
    expect(({} as Record<string, unknown>).x).toBeUndefined();
  });
});
