import { describe, expect, it } from 'vitest';
import { compareTakes } from '../../../lib/analysis/capture/compareTakes';
import { makeCurve } from '../../../lib/model/makeCurve';

const frequencyHz = Array.from({ length: 400 }, (_, i) => 10 * 1.01 ** i);
const take = (levelOf: (hz: number) => number, label = 'take', noiseDb?: number) =>
  makeCurve({
    frequencyHz,
    levelDb: frequencyHz.map(levelOf),
    label,
    ...(noiseDb !== undefined && { noiseDb: frequencyHz.map(() => noiseDb) }),
  });

describe('two takes', () => {
  it('that differ by a gain differ by it in every band', () => {
    const {
      worstDb,
      medianDb,
      take: other,
    } = compareTakes(
      take(() => 80),
      take(() => 80.7, 'second take'),
    );
    expect(worstDb).toBeCloseTo(0.7, 9);
    expect(medianDb).toBeCloseTo(0.7, 9);
    expect(other).toBe('second take');
  });

  it('that differ in one band differ most there, whichever is louder', () => {
    // the third octave around 10^1.6 Hz reaches from 10^1.55 to 10^1.65 (IEC 61260-1)
    const louder = take((hz) => (hz > 10 ** 1.55 && hz < 10 ** 1.65 ? 82 : 80), 'louder');
    const plain = take(() => 80, 'plain');
    for (const found of [compareTakes(louder, plain), compareTakes(plain, louder)]) {
      expect(found.atHz).toBeCloseTo(10 ** 1.6, 9);
      expect(found.worstDb).toBeGreaterThan(1.9);
      expect(found.worstDb).toBeLessThanOrEqual(2 + 1e-9);
      expect(found.medianDb).toBeLessThan(0.05);
    }
  });

  it('are compared only where both stand 10 dB above their noise', () => {
    const steep = (label: string) => take((hz) => 60 + 20 * Math.log10(hz), label, 98);
    const off = take((hz) => 60 + 20 * Math.log10(hz) + (hz < 50 ? 6 : 0.1), 'off', 98);
    const { worstDb } = compareTakes(steep('a'), off);
    expect(worstDb).toBeCloseTo(0.1, 6);
    expect(() =>
      compareTakes(
        take(() => 60, 'a', 58),
        off,
      ),
    ).toThrow(expect.objectContaining({ code: 'takes-no-band' }));
  });

  it('of different scales or ranges are refused', () => {
    const spl = makeCurve({ ...take(() => 80), scale: 'spl' });
    expect(() =>
      compareTakes(
        spl,
        take(() => 80),
      ),
    ).toThrow(expect.objectContaining({ code: 'mixed-curves' }));
    const far = makeCurve({ frequencyHz: [1000, 2000], levelDb: [80, 80] });
    expect(() =>
      compareTakes(
        far,
        take(() => 80),
      ),
    ).toThrow(expect.objectContaining({ code: 'takes-no-band' }));
  });
});
