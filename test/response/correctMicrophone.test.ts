import { describe, expect, it } from 'vitest';
import { makeCurve } from '../../lib/model/makeCurve';
import { stepsOf } from '../../lib/model/step';
import { correctMicrophone } from '../../lib/response/correctMicrophone';

const microphone = makeCurve({
  frequencyHz: [10, 40],
  levelDb: [-6, 0],
  phaseDeg: [90, 0],
  role: 'correction',
  label: 'capsule 7',
});

describe('correcting for the microphone', () => {
  it('subtracts its level, linear in log frequency, from level and noise alike', () => {
    const curve = makeCurve({ frequencyHz: [10, 20, 40], levelDb: [80, 80, 80], noiseDb: [40, 40, 40] });
    const got = correctMicrophone(curve, microphone);
    expect(got.levelDb.map((l) => Number(l.toFixed(9)))).toEqual([86, 83, 80]);
    expect(got.noiseDb!.map((l) => Number(l.toFixed(9)))).toEqual([46, 43, 40]);
    expect(got.steps).toEqual([{ did: 'microphone correction', with: { correction: 'capsule 7', id: microphone.id } }]);
    expect(curve.levelDb).toEqual([80, 80, 80]);
  });

  it('subtracts its phase where both have one', () => {
    const curve = makeCurve({ frequencyHz: [10, 20, 40], levelDb: [0, 0, 0], phaseDeg: [-100, 0, 0] });
    const { phaseDeg } = correctMicrophone(curve, microphone);
    expect(phaseDeg!.map((p) => Number(p.toFixed(9)))).toEqual([170, -45, 0]);
    const { phaseDeg: untouched } = correctMicrophone(curve, { ...microphone, phaseDeg: undefined });
    expect(untouched).toEqual([-100, 0, 0]);
  });

  it('holds the end values beyond the correction and names the ranges', () => {
    const curve = makeCurve({ frequencyHz: [5, 10, 40, 80], levelDb: [80, 80, 80, 80] });
    const got = correctMicrophone(curve, microphone);
    expect(got.levelDb).toEqual([86, 86, 80, 80]);
    expect(stepsOf(got, 'microphone correction')[0].with.extrapolatedHz).toEqual([
      [5, 10],
      [40, 80],
    ]);
  });

  it.each([2, 3, 5])(
    'takes of harmonic %i what the microphone does at n f against f, off level, noise and phase',
    (order) => {
      // Closed form: a microphone of s dB an octave raises harmonic n by s lg2(n) at every frequency.
      const sloping = makeCurve({ frequencyHz: [1, 1024], levelDb: [-30, 0], phaseDeg: [90, 0], role: 'correction' });
      const columns = { frequencyHz: [10, 20, 40], levelDb: [-40, -30, -20], noiseDb: [-70, -60, -50] };
      const harmonic = makeCurve({ ...columns, phaseDeg: [0, 0, 0], role: 'harmonic', order });
      const got = correctMicrophone(harmonic, sloping);
      const by = 3 * Math.log2(order);
      got.levelDb.forEach((level, i) => {
        expect(level).toBeCloseTo(columns.levelDb[i] - by, 9);
        expect(got.noiseDb![i]).toBeCloseTo(columns.noiseDb[i] - by, 9);
        expect(got.phaseDeg![i]).toBeCloseTo(9 * Math.log2(order), 9);
      });
      expect([got.role, got.order]).toEqual(['harmonic', order]);
    },
  );

  it('corrects the harmonics so that corrected response and harmonic together are the corrected sound at n f', () => {
    // The sound at 20 Hz, taken as second harmonic of 10 Hz, and the same sound taken as a response at 20 Hz.
    const response = makeCurve({ frequencyHz: [10, 20], levelDb: [90, 70] });
    const harmonic = makeCurve({ frequencyHz: [10], levelDb: [70 - 90], role: 'harmonic', order: 2 });
    const [at10, at20] = correctMicrophone(response, microphone).levelDb;
    expect(at10 + correctMicrophone(harmonic, microphone).levelDb[0]).toBeCloseTo(at20, 9);
  });

  it('names the ranges in which either a harmonic or its fundamental lies beyond the correction', () => {
    const over = (frequencyHz: number[], order: number) => {
      const harmonic = makeCurve({ frequencyHz, levelDb: frequencyHz.map(() => -30), role: 'harmonic', order });
      return stepsOf(correctMicrophone(harmonic, microphone), 'microphone correction')[0].with.extrapolatedHz;
    };
    expect(over([10, 20], 2)).toBeUndefined();
    expect(over([5, 30], 2)).toEqual([
      [5, 10],
      [20, 30],
    ]);
    expect(over([5, 30], 5)).toEqual([[5, 30]]);
    expect(over([5], 2)).toEqual([[5, 5]]);
  });

  it('refuses to do it twice', () => {
    const curve = makeCurve({ frequencyHz: [10, 40], levelDb: [80, 80] });
    const once = correctMicrophone(curve, microphone);
    expect(() => correctMicrophone(once, microphone)).toThrowError(
      expect.objectContaining({ code: 'already-corrected' }),
    );
  });
});
