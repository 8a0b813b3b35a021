import { describe, expect, it } from 'vitest';
import { makeCurve } from '../../lib/model/makeCurve';
import { attachNoise } from '../../lib/response/attachNoise';
import { caveatsFor } from '../../lib/response/caveatsFor';
import { correctMicrophone } from '../../lib/response/correctMicrophone';
import { snrDb } from '../../lib/response/snrDb';

function seeded(seed: number): () => number {
  let state = seed;
  return () => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    return (state + 0.5) / 2 ** 32;
  };
}

describe('noise of a curve', () => {
  it.each([
    ['linear', Array.from({ length: 1000 }, (_, i) => 5 + 0.5 * i)],
    ['logarithmic', Array.from({ length: 200 }, (_, i) => 5 * 2 ** (i / 24))],
  ])('is found within 2 dB from one silent run of random bins, %s grid', (_, frequencyHz) => {
    // Closed form: the power in a bin of stationary noise is exponentially distributed around its mean.
    const random = seeded(7);
    const truth = frequencyHz.map((f) => 60 - 6 * Math.log2(f / 5));
    const errors: number[] = [];
    for (let run = 0; run < 20; run++) {
      const noise = makeCurve({ frequencyHz, levelDb: truth.map((l) => l + 10 * Math.log10(-Math.log(random()))) });
      const { noiseDb } = attachNoise(makeCurve({ frequencyHz, levelDb: truth }), noise);
      noiseDb!.forEach((l, i) => {
        errors.push(l - truth[i]);
      });
    }
    const rms = Math.sqrt(errors.reduce((sum, e) => sum + e * e, 0) / errors.length);
    const mean = errors.reduce((sum, e) => sum + e, 0) / errors.length;
    expect(rms).toBeLessThan(2); // single bins: 5.6
    expect(Math.abs(mean)).toBeLessThan(0.5);
  });

  it('is held beyond the silent run, and the step says so', () => {
    const noise = makeCurve({ frequencyHz: [20, 40], levelDb: [30, 30], label: 'silence' });
    const got = attachNoise(makeCurve({ frequencyHz: [10, 20, 40], levelDb: [80, 80, 80] }), noise);
    expect(got.noiseDb!.map((l) => Number(l.toFixed(9)))).toEqual([30, 30, 30]);
    expect(got.steps).toEqual([{ did: 'attach noise', with: { noise: 'silence', id: noise.id, knownHz: [20, 40] } }]);
  });

  it('is refused where the two runs were not treated alike', () => {
    const a = makeCurve({ frequencyHz: [20, 40], levelDb: [80, 80] });
    expect(() => attachNoise(a, { ...a, scale: 'spl' })).toThrowError(
      expect.objectContaining({ code: 'mixed-curves' }),
    );
    expect(() => attachNoise({ ...a, role: 'harmonic', order: 2 }, a)).toThrowError(
      expect.objectContaining({ code: 'mixed-curves' }),
    );
    expect(() => attachNoise(correctMicrophone(a, a), a)).toThrowError(
      expect.objectContaining({ code: 'mixed-curves' }),
    );
  });

  it('is taken off the signal before the ratio is formed', () => {
    // Closed form: two equal powers add to 3.0103 dB, so a level 3.0103 dB above its noise has 0 dB.
    const snr = snrDb(makeCurve({ frequencyHz: [10, 20, 30], levelDb: [53.0103, 90, 49], noiseDb: [50, 50, 50] }))!;
    expect(snr[0]).toBeCloseTo(0, 4);
    expect(snr[1]).toBeCloseTo(40, 3);
    expect(snr[2]).toBe(Number.NEGATIVE_INFINITY);
    expect(snrDb(makeCurve({ frequencyHz: [10], levelDb: [1] }))).toBeUndefined();
  });

  it('leads to one doubt about all untrusted stretches inside the ranges asked for, and to none elsewhere', () => {
    const frequencyHz = Array.from({ length: 100 }, (_, i) => 5 + i);
    const noiseDb = frequencyHz.map((f) => (f < 15 || f > 80 ? 75 : 40));
    const curve = makeCurve({ frequencyHz, levelDb: frequencyHz.map(() => 80), noiseDb, label: 'run 1' });
    expect(caveatsFor(curve, [[20, 60]])).toEqual([]);
    const caveats = caveatsFor(curve, [[8, 104]]);
    expect(caveats).toHaveLength(1);
    expect(caveats[0]).toMatchObject({ code: 'near-noise', severity: 'doubt', values: { label: 'run 1' } });
    const [low, high, none] = caveats[0].where?.rangesHz ?? [];
    expect(low[0]).toBe(8);
    expect(Math.abs(low[1] - 14.5)).toBeLessThan(2);
    expect(Math.abs(high[0] - 79.5)).toBeLessThan(5);
    expect(high[1]).toBe(104);
    expect(none).toBeUndefined();
    expect(caveatsFor(curve, [[10.2, 10.3]])).toHaveLength(1);
    expect(caveatsFor(makeCurve({ frequencyHz, levelDb: noiseDb }), [[5, 100]])).toEqual([]);
  });

  it('is passed over in a sliver at the end of a wide range, and nowhere else', () => {
    const frequencyHz = Array.from({ length: 385 }, (_, i) => 10 * 2 ** (i / 96));
    const noisyFrom = (from: number, to: number) =>
      makeCurve({
        frequencyHz,
        levelDb: frequencyHz.map(() => 80),
        noiseDb: frequencyHz.map((hz) => (hz >= from && hz <= to ? 79 : 40)),
      });
    // 10 to 160 Hz; smoothing over 1/6 octave widens a stretch by up to 1/12 octave
    const end = noisyFrom(10, 10.4);
    expect(caveatsFor(end, [[10, 160]])).toEqual([]);
    expect(caveatsFor(end, [[9, 11]])).toHaveLength(1);
    expect(caveatsFor(end, [[10, 18]])).toHaveLength(1);
    expect(caveatsFor(noisyFrom(152, 160), [[10, 160]])).toEqual([]);
    expect(caveatsFor(noisyFrom(10, 11.5), [[10, 160]])).toHaveLength(1);
    expect(caveatsFor(noisyFrom(40, 41), [[10, 160]])).toHaveLength(1);
    expect(caveatsFor(noisyFrom(9, 161), [[10, 160]])).toHaveLength(1);
  });
});
