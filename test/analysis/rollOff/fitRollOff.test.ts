import { describe, expect, it } from 'vitest';
import { fitRollOff } from '../../../lib/analysis/rollOff/fitRollOff';
import type { Caveat } from '../../../lib/model/caveat';
import { makeCurve } from '../../../lib/model/makeCurve';
import reference from '../../reference/highPasses.json' with { type: 'json' };
import { drawRollOff, highPass, highPass1, logGrid } from './simulatedRollOff';

const curveOf = (frequencyHz: number[], level: (hz: number) => number) =>
  makeCurve({ frequencyHz, levelDb: frequencyHz.map(level) });

const codes = (fit: { caveats: Caveat[] }) => fit.caveats.map(({ code }) => code);

describe('the roll-off', () => {
  // Reference: scipy.signal.freqs of butter and bessel (versions in the file).
  for (const { kind, order, f0Hz, asymptoteHz, q, frequencyHz, levelDb } of reference.cases) {
    it(`of scipy's ${kind} high-pass of order ${order} is recovered`, () => {
      const fit = fitRollOff(curveOf(frequencyHz, (hz) => 85 + levelDb[frequencyHz.indexOf(hz)]));
      expect(fit.order).toBe(order);
      expect(fit.f0Hz! / asymptoteHz).toBeCloseTo(1, 2);
      expect(Math.abs(fit.slopeDbPerOctave - 20 * order * Math.log10(2))).toBeLessThan(0.5);
      if (order === 2) expect(fit.q! / q!).toBeCloseTo(1, 2);
      if (kind === 'butter' && order > 1) expect(fit.alignment).toBe('Butterworth');
      if (kind === 'bessel' && order === 2) expect(fit.alignment).toBe('Bessel');
      expect(f0Hz).toBeGreaterThan(0);
    });
  }

  it.each([
    // Closed form of a second-order high-pass at -3.01 dB; loudspeaker handbooks list the ratios (from memory).
    [0.5, 1.554, 'critically damped'],
    [1 / Math.sqrt(3), 1.272, 'Bessel'],
    [Math.SQRT1_2, 1, 'Butterworth'],
    [1, 0.786, 'Chebyshev-like, peaked'],
  ])('of Q %s is 3 dB down at %s times its resonance', (q, ratio, alignment) => {
    const f0Hz = 30;
    expect(highPass(f0Hz * ratio, f0Hz, q)).toBeCloseTo(-3.0103, 2);
    const fit = fitRollOff(curveOf(logGrid(5, 300, 200), (hz) => 90 + highPass(hz, f0Hz, q)));
    expect(fit.f0Hz).toBeCloseTo(f0Hz, 1);
    expect(fit.q).toBeCloseTo(q, 2);
    expect(fit.alignment).toBe(alignment);
    expect(highPass(fit.f0Hz! * ratio, fit.f0Hz!, fit.q!)).toBeCloseTo(-3.0103, 1);
    expect(fit.rmsErrorDb).toBeLessThan(0.01);
    expect(fit.caveats).toEqual([]);
  });

  it('has f0 within 1 % and Q within 2 % in nine of ten drawn sealed units, and none far off', () => {
    // Where a draw is beyond that, its noise hardly allows better: few points, Q below 0.5, a low-pass close by.
    const errors = Array.from({ length: 100 }, (_, seed) => {
      const { curve, f0Hz, q } = drawRollOff(seed, 'sealed');
      const fit = fitRollOff(curve);
      expect(fit.order).toBe(2);
      return { f0: 100 * Math.abs(fit.f0Hz! / f0Hz - 1), q: 100 * Math.abs(fit.q! / q! - 1) };
    });
    expect(errors.filter(({ f0 }) => f0 > 1).length).toBeLessThanOrEqual(10);
    expect(errors.filter(({ q }) => q > 2).length).toBeLessThanOrEqual(10);
    expect(Math.max(...errors.map(({ f0 }) => f0))).toBeLessThan(4);
    expect(Math.max(...errors.map(({ q }) => q))).toBeLessThan(6);
  });

  it('keeps a sealed unit sealed where a room has left 1 dB of waves, and a vented one vented without', () => {
    const orders = (kind: 'sealed' | 'vented', roomDb: number) =>
      Array.from({ length: 20 }, (_, seed) => fitRollOff(drawRollOff(seed, kind, roomDb).curve).order);
    expect(orders('sealed', 1).filter((order) => order !== 2)).toEqual([]);
    expect(orders('vented', 0).filter((order) => order !== 4)).toEqual([]);
  });

  it('finds the corner of a vented unit within 5 % in 20 draws', () => {
    for (let seed = 0; seed < 20; seed++) {
      const { curve, f0Hz } = drawRollOff(seed, 'vented');
      expect(Math.abs(fitRollOff(curve).f0Hz! / f0Hz - 1)).toBeLessThan(0.05);
    }
  });

  it('leaves masked dips out', () => {
    const grid = logGrid(5, 300, 300);
    const dipped = (hz: number) => 90 + highPass(hz, 30, 0.7) - (hz > 28 && hz < 36 ? 12 : 0);
    const fit = fitRollOff(curveOf(grid, dipped), { masksHz: [[27, 37]] });
    expect(fit.f0Hz).toBeCloseTo(30, 1);
    expect(fit.q).toBeCloseTo(0.7, 2);
  });

  it('keeps off a floor that is not known to be noise, and says so', () => {
    const grid = logGrid(5, 300, 200);
    const floored = (hz: number) => 10 * Math.log10(10 ** (9 + highPass(hz, 30, 0.7) / 10) + 10 ** 6.5);
    const fit = fitRollOff(curveOf(grid, floored));
    expect(fit.order).toBe(2);
    expect(fit.f0Hz! / 30).toBeCloseTo(1, 1);
    expect(codes(fit)).toContain('roll-off-floor');
  });

  it('says how little it rests on where the curve shows little', () => {
    const short = fitRollOff(curveOf(logGrid(25, 300, 200), (hz) => 90 + highPass(hz, 30, 0.7)));
    expect(short.caveats.find(({ code }) => code === 'roll-off-little-fall')?.values.fallDb).toBeCloseTo(5, 1);
    const climbing = fitRollOff(curveOf(logGrid(5, 300, 200), (hz) => highPass(hz, 160, 0.4)));
    expect(codes(climbing)).toContain('roll-off-no-pass-band');
    const roomy = fitRollOff(
      curveOf(logGrid(5, 300, 200), (hz) => 90 + highPass(hz, 30, 0.7) + 3 * Math.sin(9 * Math.log2(hz))),
    );
    expect(codes(roomy)).toEqual(['roll-off-misfit']);
  });

  it('names no corner, Q or alignment of a curve that no high-pass fits, only how it falls and where', () => {
    for (const phase of [0, 1, 2, 3, 4, 5]) {
      const waves = (hz: number) => 3.5 * Math.sin(8 * Math.log2(hz) + phase);
      const curve = curveOf(logGrid(5, 300, 200), (hz) => 90 + highPass(hz, 30, 0.7) + waves(hz));
      const roomy = fitRollOff(curve, { rangeHz: [8, 200] });
      expect(roomy.rmsErrorDb).toBeGreaterThan(1);
      expect([roomy.f0Hz, roomy.q, roomy.alignment]).toEqual([null, null, null]);
      const [low, high] = roomy.rangeHz;
      expect(high / low).toBeGreaterThan(1.4);
      // closed form: the mean slope of the high-pass over that range; 3.5 dB of waves are up to 7 dB from end to end
      const mean = (highPass(high, 30, 0.7) - highPass(low, 30, 0.7)) / Math.log2(high / low);
      expect(Math.abs(roomy.slopeDbPerOctave - mean)).toBeLessThan(7 / Math.log2(high / low) + 1);
    }
    const clean = fitRollOff(curveOf(logGrid(5, 300, 200), (hz) => 90 + highPass(hz, 30, 0.7)));
    expect(clean).toMatchObject({ alignment: 'Butterworth', caveats: [] });
  });

  it('has no doubt for a hum line on the fall, but for noise over much of it', () => {
    const fall = curveOf(logGrid(6, 300, 200), (hz) => 90 + highPass(hz, 30, 0.7));
    const withNoise = (from: number, to: number) =>
      fitRollOff({ ...fall, noiseDb: fall.levelDb.map((l, i) => (hzOf(i) > from && hzOf(i) < to ? l - 8 : 20)) });
    const hzOf = (i: number) => fall.frequencyHz[i];
    expect(codes(withNoise(12, 13))).not.toContain('near-noise');
    expect(codes(withNoise(6, 20))).toContain('near-noise');
  });

  it('names first and mixed orders', () => {
    const grid = logGrid(5, 300, 200);
    expect(fitRollOff(curveOf(grid, (hz) => highPass1(hz, 25))).alignment).toBe('first order');
    const subsonic = fitRollOff(curveOf(grid, (hz) => highPass(hz, 30, 0.7) + highPass1(hz, 15)));
    expect([subsonic.order, subsonic.alignment]).toEqual([3, 'order 3, drooping']);
    const vented = fitRollOff(curveOf(grid, (hz) => highPass(hz, 30, 0.6) + highPass(hz, 28, 2.4)));
    expect([vented.order, vented.q, vented.alignment]).toEqual([4, null, 'vented, peaked']);
  });

  it.each([
    ['no-roll-off', logGrid(5, 300, 100), () => 90, {}],
    ['too-few-points', [10, 20, 40, 80], (hz: number) => 90 + highPass(hz, 30, 0.7), {}],
    ['too-few-points', logGrid(5, 300, 100), () => 90, { rangeHz: [20, 22] as [number, number] }],
    ['bad-interval', logGrid(5, 300, 100), () => 90, { rangeHz: [40, 20] as [number, number] }],
  ])('refuses with %s', (code, grid, level, options) => {
    expect(() => fitRollOff(curveOf(grid, level), options)).toThrowError(expect.objectContaining({ code }));
  });
});
