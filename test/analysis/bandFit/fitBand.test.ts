import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fitBand } from '../../../lib/analysis/bandFit/fitBand';
import { fitRollOff } from '../../../lib/analysis/rollOff/fitRollOff';
import type { Caveat } from '../../../lib/model/caveat';
import type { Interval } from '../../../lib/model/curve';
import { makeCurve } from '../../../lib/model/makeCurve';
import { smooth } from '../../../lib/response/smooth';
import { weightCurve } from '../../../lib/response/weightCurve';

interface Drawn {
  frequencyHz: number[];
  levelDb: number[];
  heightDb: number;
  masksHz: Interval[];
}

const step = fc.record({
  octaves: fc.double({ min: 0.01, max: 0.6, noNaN: true }),
  db: fc.integer({ min: -80, max: 80 }),
});
const mask = fc.record({
  at: fc.double({ min: 0, max: 1, noNaN: true }),
  octaves: fc.double({ min: 0.01, max: 1, noNaN: true }),
});

/** Random walks with plateaus (integer tenths make ties), random masks. */
const drawn = (masks: number) =>
  fc
    .record({
      steps: fc.array(step, { minLength: 2, maxLength: 30 }),
      heightDb: fc.double({ min: 0.5, max: 15, noNaN: true }),
      masks: fc.array(mask, { maxLength: masks }),
    })
    .map(({ steps, heightDb, masks }): Drawn => {
      let [x, level] = [3, 80];
      const places = steps.map(({ octaves, db }) => {
        x += octaves;
        level += Math.round(db / 2) / 10;
        return { x, level };
      });
      const [from, to] = [places[0].x, x];
      return {
        frequencyHz: places.map((p) => 2 ** p.x),
        levelDb: places.map((p) => p.level),
        heightDb,
        masksHz: masks.map(({ at, octaves }) => {
          const low = from - 0.2 + at * (to - from + 0.2);
          return [2 ** low, 2 ** (low + octaves)];
        }),
      };
    });

const masked = (f: number, masksHz: Interval[]) => masksHz.some(([low, high]) => f > low && f < high);

/** The line through the unmasked points, read at any frequency. */
function reader({ frequencyHz, levelDb, masksHz }: Drawn) {
  const kept = frequencyHz.flatMap((f, i) => (masked(f, masksHz) ? [] : [{ x: Math.log2(f), y: levelDb[i] }]));
  const at = (f: number): number => {
    const x = Math.log2(f);
    const i = Math.max(
      1,
      Math.min(
        kept.length - 1,
        kept.findIndex((p) => p.x >= x - 1e-12),
      ),
    );
    if (kept.length === 1) return kept[0].y;
    const [a, b] = [kept[i - 1], kept[i]];
    return a.y + ((x - a.x) / (b.x - a.x)) * (b.y - a.y);
  };
  return { kept, at };
}

function checkAgainstBruteForce(given: Drawn): void {
  const { kept, at } = reader(given);
  fc.pre(kept.length > 0);
  const fit = fitBand(makeCurve(given), { heightDb: given.heightDb, masksHz: given.masksHz, smoothing: null });

  // It never leaves its window, and no end lies inside a mask.
  expect(fit.ceilingDb - fit.floorDb).toBeCloseTo(given.heightDb, 9);
  expect(fit.octaves).toBeCloseTo(Math.log2(fit.highHz / fit.lowHz), 9);
  const inRange = kept.filter(({ x }) => 2 ** x > fit.lowHz && 2 ** x < fit.highHz).map(({ y }) => y);
  for (const level of [...inRange, at(fit.lowHz), at(fit.highHz)]) {
    expect(level).toBeGreaterThan(fit.floorDb - 1e-7);
    expect(level).toBeLessThan(fit.ceilingDb + 1e-7);
  }
  const shrunk = given.masksHz.map(([low, high]): Interval => [low * (1 + 1e-9), high * (1 - 1e-9)]);
  expect(masked(fit.lowHz, shrunk) || masked(fit.highHz, shrunk)).toBe(false);

  // It never misses a wider one: every pair of finely spaced ends that fits is no wider.
  const samples: { x: number; y: number; end: boolean }[] = [];
  for (let i = 0; i < kept.length; i++) {
    samples.push({ ...kept[i], end: true });
    for (let k = 1; k < 6 && i + 1 < kept.length; k++) {
      const x = kept[i].x + (k / 6) * (kept[i + 1].x - kept[i].x);
      samples.push({ x, y: at(2 ** x), end: !masked(2 ** x, given.masksHz) });
    }
  }
  let widest = 0;
  for (let i = 0; i < samples.length; i++) {
    if (!samples[i].end) continue;
    let [low, high] = [samples[i].y, samples[i].y];
    for (let k = i; k < samples.length; k++) {
      low = Math.min(low, samples[k].y);
      high = Math.max(high, samples[k].y);
      if (high - low > given.heightDb) break;
      if (samples[k].end) widest = Math.max(widest, samples[k].x - samples[i].x);
    }
  }
  expect(widest).toBeLessThan(fit.octaves + 1e-9);
}

const codes = (fit: { caveats: Caveat[] }) => fit.caveats.map(({ code }) => code);

describe('the band fit', () => {
  it('never leaves its window and never misses a wider one', () => {
    fc.assert(fc.property(drawn(0), checkAgainstBruteForce), { numRuns: 1000 });
  });

  it('does so with masks too', () => {
    fc.assert(fc.property(drawn(4), checkAgainstBruteForce), { numRuns: 1000 });
  });

  it('has both ends between points where both lie on slopes', () => {
    // Closed form: 12 dB per octave up to 20 Hz, flat to 160 Hz, 24 dB per octave down; 5 dB are 5/12 and 5/24 octave.
    const curve = makeCurve({ frequencyHz: [5, 20, 160, 640], levelDb: [56, 80, 80, 32] });
    const fit = fitBand(curve, { smoothing: null });
    expect(fit.lowHz).toBeCloseTo(20 * 2 ** (-5 / 12), 9);
    expect(fit.highHz).toBeCloseTo(160 * 2 ** (5 / 24), 9);
    expect([fit.floorDb, fit.ceilingDb]).toEqual([75, 80]);
    expect(fit.caveats).toEqual([]);
    expect(fit.withoutMasks).toEqual({
      lowHz: fit.lowHz,
      highHz: fit.highHz,
      octaves: fit.octaves,
      floorDb: 75,
      ceilingDb: 80,
    });
    expect(fit.points.map((p) => p.lowHz)).toEqual([3, 6, 10].map((db) => expect.closeTo(20 * 2 ** (-db / 12), 6)));
    expect(fit.points.map((p) => p.highHz)).toEqual([3, 6, 10].map((db) => expect.closeTo(160 * 2 ** (db / 24), 6)));
    expect(fit.referenceDb).toBeCloseTo(80, 9);
  });

  it('goes through a masked dip and says what it would be without the mask', () => {
    const frequencyHz = Array.from({ length: 97 }, (_, i) => 10 * 2 ** (i / 24));
    const levelDb = frequencyHz.map((f) => (f > 45 && f < 55 ? 60 : 80));
    const fit = fitBand(makeCurve({ frequencyHz, levelDb }), { masksHz: [[40, 62]] });
    expect(fit.octaves).toBeCloseTo(4, 6);
    expect(fit.withoutMasks.highHz).toBeLessThan(46);
    expect(fit.masksHz).toEqual([[40, 62]]);
    expect(fit.caveats.map(({ code, severity, values }) => [code, severity, values.end])).toEqual([
      ['range-to-curve-end', 'remark', 'low'],
      ['range-to-curve-end', 'remark', 'high'],
    ]);
    expect(fit.points.every(({ lowHz, highHz }) => lowHz === null && highHz === null)).toBe(true);
  });

  it('names another range nearly as wide elsewhere', () => {
    const curve = makeCurve({
      frequencyHz: [10, 20, 21, 22, 43, 43.5],
      levelDb: [80, 80, 40, 80, 80, 0],
    });
    const fit = fitBand(curve, { smoothing: null });
    expect(fit.lowHz).toBeCloseTo(10, 6);
    expect(fit.runnerUp!.lowHz).toBeGreaterThan(21);
    expect(fit.runnerUp!.octaves).toBeGreaterThan(fit.octaves - 0.1);
    const single = makeCurve({ frequencyHz: [10, 20, 40, 80], levelDb: [60, 80, 80, 60] });
    expect(fitBand(single, { smoothing: null }).runnerUp).toBeUndefined();
  });

  it('tells the smallest height that holds a wanted range, masked points not counted', () => {
    const curve = makeCurve({ frequencyHz: [10, 20, 30, 40, 80], levelDb: [70, 80, 50, 86, 86] });
    const needed = (rangeHz: Interval, masksHz: Interval[] = []) =>
      fitBand(curve, { smoothing: null, rangeHz, masksHz }).neededHeightDb;
    expect(needed([20, 80])).toBeCloseTo(36, 9);
    expect(needed([20, 80], [[25, 35]])).toBeCloseTo(6, 9);
    expect(needed([10 * Math.SQRT2, 20])).toBeCloseTo(5, 9);
    expect(needed([5, 20])).toBeCloseTo(10, 9);
    expect(codes(fitBand(curve, { smoothing: null, rangeHz: [5, 20] }))).toContain('needed-height-of-part');
    expect(needed([100, 200])).toBeUndefined();
  });

  it('falls back to the maximum where the reference band is not in the curve, and says so', () => {
    const curve = makeCurve({ frequencyHz: [100, 200, 400, 800], levelDb: [70, 90, 88, 70] });
    const fit = fitBand(curve, { smoothing: null });
    expect(fit.referenceDb).toBe(90);
    expect(codes(fit)).toContain('reference-band-missing');
    expect(fit.points[1].lowHz).toBeCloseTo(200 * 2 ** (-6 / 20), 9);
    expect(codes(fitBand(curve, { smoothing: null, reference: 'maximum' }))).not.toContain('reference-band-missing');
  });

  it('finds the -3 dB point inside the reference band where the response is already lower at its edge', () => {
    // 12 dB per octave from 80 Hz down; the power mean over 40 to 80 Hz lies below 80 dB.
    const curve = makeCurve({ frequencyHz: [10, 80, 320], levelDb: [44, 80, 80] });
    const { referenceDb, points } = fitBand(curve, { smoothing: null });
    expect(points[0].lowHz).toBeCloseTo(80 * 2 ** ((referenceDb - 3 - 80) / 12), 6);
    expect(points[0].lowHz).toBeGreaterThan(40);
  });

  it('takes no even floor of noise for a flat response', () => {
    const frequencyHz = Array.from({ length: 241 }, (_, i) => 2 * 2 ** (i / 40));
    // a floor of 60 dB over 3.3 octaves, then a unit that rises out of it and ends, flat over 1.6 octaves
    const levelDb = frequencyHz.map((f) => Math.max(60, 90 - Math.max(0, 24 * Math.log2(50 / f)) - (f > 100 ? 20 : 0)));
    const noiseDb = frequencyHz.map(() => 60);
    const bare = fitBand(makeCurve({ frequencyHz, levelDb }));
    const fit = fitBand(makeCurve({ frequencyHz, levelDb, noiseDb }));
    expect(bare.highHz).toBeLessThan(25);
    expect(fit.lowHz).toBeGreaterThan(38);
    expect(fit.highHz).toBeGreaterThan(95);
    const hidden = fitBand(makeCurve({ frequencyHz, levelDb, noiseDb: noiseDb.map(() => 76) }), { heightDb: 30 });
    expect(hidden.caveats.find(({ code }) => code === 'range-to-noise')).toMatchObject({ severity: 'doubt' });
  });

  it('says where its ends are too close to the noise', () => {
    const frequencyHz = Array.from({ length: 120 }, (_, i) => 5 * 2 ** (i / 20));
    const levelDb = frequencyHz.map((f) => 80 - 10 * Math.log10(1 + (30 / f) ** 4));
    const noisy = makeCurve({ frequencyHz, levelDb, noiseDb: frequencyHz.map(() => 63), label: 'run' });
    expect(codes(fitBand(noisy))).toContain('near-noise');
    const quiet = makeCurve({ frequencyHz, levelDb, noiseDb: frequencyHz.map(() => 30) });
    expect(fitBand(quiet).caveats.filter(({ severity }) => severity !== 'remark')).toEqual([]);
  });

  it('reads nothing from a curve that is noise', () => {
    const frequencyHz = Array.from({ length: 120 }, (_, i) => 5 * 2 ** (i / 20));
    const noiseDb = frequencyHz.map((_, i) => 60 + 2 * Math.sin(i));
    const fit = fitBand(makeCurve({ frequencyHz, levelDb: noiseDb.map((db) => db + 3), noiseDb }));
    expect(fit.caveats.map(({ code, severity }) => [code, severity])).toEqual([['fit-in-noise', 'warning']]);
    expect(fit.points.every(({ lowHz, highHz }) => lowHz === null && highHz === null)).toBe(true);
  });

  describe('down points', () => {
    const frequencyHz = Array.from({ length: 200 }, (_, i) => 8 * 2 ** (i / 36));
    /** 24 dB per octave below 25 Hz, and a dip or peak. */
    const levels = (hz: number, db: number, octaves: number) =>
      frequencyHz.map(
        (f) => 80 - 10 * Math.log10(1 + (25 / f) ** 8) + db * Math.exp(-((Math.log2(f / hz) / octaves) ** 2)),
      );

    it('pass a dip from which the curve comes back, and name it', () => {
      const bare = fitBand(makeCurve({ frequencyHz, levelDb: levels(36, 0, 0.1) }));
      for (const hz of [36, 38, 41, 48]) {
        const fit = fitBand(makeCurve({ frequencyHz, levelDb: levels(hz, -14, 0.1) }), {
          reference: 'maximum',
        });
        const [, six] = fit.points;
        expect(Math.abs(Math.log2(six.lowHz! / bare.points[1].lowHz!))).toBeLessThan(0.05);
        expect(six.lowDipsHz).toEqual([expect.closeTo(hz, 0)]);
        expect(six.highHz).toBeNull();
      }
      expect(bare.points.some((point) => 'lowDipsHz' in point || 'highDipsHz' in point)).toBe(false);
    });

    it('end where the curve stays low, though a narrow peak or noise lifts it once more further down', () => {
      const peak = fitBand(makeCurve({ frequencyHz, levelDb: levels(15, 16, 0.05) }));
      const bare = fitBand(makeCurve({ frequencyHz, levelDb: levels(15, 0, 0.05) }));
      expect(peak.points[1].lowHz).toBeCloseTo(bare.points[1].lowHz!, 3);
      const noiseDb = frequencyHz.map((f) => (f < 19 ? 79 : 30));
      const levelDb = levels(15, 0, 0.05).map((db, i) => Math.max(db, noiseDb[i]));
      const noisy = fitBand(makeCurve({ frequencyHz, levelDb, noiseDb }));
      expect(noisy.points[1].lowHz).toBeGreaterThan(19);
      expect(noisy.points[1].lowDipsHz).toBeUndefined();
    });
  });

  it('refuses a curve that was A- or C-weighted, unless told to take it', () => {
    const frequencyHz = Array.from({ length: 120 }, (_, i) => 10 * 2 ** (i / 24));
    const curve = makeCurve({ frequencyHz, levelDb: frequencyHz.map((f) => 80 - 10 * Math.log10(1 + (25 / f) ** 4)) });
    for (const weighting of ['A', 'C'] as const) {
      const weighted = weightCurve(curve, weighting);
      expect(() => fitBand(weighted)).toThrowError(expect.objectContaining({ code: 'weighted-curve' }));
      expect(() => fitRollOff(weighted)).toThrowError(expect.objectContaining({ code: 'weighted-curve' }));
      expect(fitBand(weighted, { allowWeighted: true }).octaves).toBeGreaterThan(0);
      // also after more was done to it
      expect(() => fitBand(smooth(weighted, { fraction: 3 }))).toThrowError(
        expect.objectContaining({ code: 'weighted-curve' }),
      );
    }
    expect(fitBand(weightCurve(curve, 'Z')).octaves).toBeCloseTo(fitBand(curve).octaves, 9);
  });

  it('has no doubt about a clean curve, nor about one whose noise lies outside what was read from it', () => {
    const frequencyHz = Array.from({ length: 160 }, (_, i) => 5 * 2 ** (i / 24));
    const levelDb = frequencyHz.map(
      (f) => 80 - 10 * Math.log10(1 + (30 / f) ** 4) - 10 * Math.log10(1 + (f / 200) ** 8),
    );
    // a noise that has the curve from 12 Hz down, where no number was read
    const noiseDb = frequencyHz.map((f) => (f < 12 ? 70 : 20));
    for (const curve of [makeCurve({ frequencyHz, levelDb }), makeCurve({ frequencyHz, levelDb, noiseDb })]) {
      expect(fitBand(curve).caveats.filter(({ severity }) => severity !== 'remark')).toEqual([]);
    }
  });

  it('takes time in step with the number of points', () => {
    const curves = [8_192, 65_536].map((count) => {
      const frequencyHz = Array.from({ length: count }, (_, i) => 2 + (19_660 / count) * i);
      return makeCurve({ frequencyHz, levelDb: frequencyHz.map((f, i) => 80 + 6 * Math.sin(f / 9) + Math.sin(i)) });
    });
    // Processor time, the least of several: other programs must not decide.
    const [few, many] = curves.map((curve) => {
      const times = Array.from({ length: 8 }, () => {
        const start = process.cpuUsage();
        fitBand(curve, { masksHz: [[40, 50]] });
        const { user, system } = process.cpuUsage(start);
        return (user + system) / 1000;
      });
      return Math.max(Math.min(...times), 2); // below that the clock decides
    });
    // eight times the points; quadratic time would take 64 times
    expect(many / few).toBeLessThan(32);
  });

  it.each([
    ['bad-height', { heightDb: 0 }],
    ['bad-fraction', { smoothing: -1 }],
    ['bad-reference', { reference: 'mean' as 'band' }],
    ['bad-interval', { rangeHz: [40, 20] as Interval }],
    ['bad-interval', { masksHz: [[Number.NaN, 20]] as Interval[] }],
    ['all-masked', { masksHz: [[1, 1000]] as Interval[] }],
  ])('refuses with %s', (code, options) => {
    const curve = makeCurve({ frequencyHz: [10, 20, 40], levelDb: [80, 80, 80] });
    expect(() => fitBand(curve, options)).toThrowError(expect.objectContaining({ code }));
  });
});
